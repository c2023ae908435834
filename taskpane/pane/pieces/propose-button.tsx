import type { JSX } from "preact";
import type { Day } from "../../../src/core/day.ts";
import { Button } from "./form.tsx";
import { InFoot } from "./in-foot.tsx";
import type { SectionGiven } from "./section.ts";
import type { Request } from "../state/state.ts";

interface Given extends SectionGiven {
  readonly request: (today: Day) => Request;
  readonly off?: boolean;
  readonly children: string;
}

/** A section's main button: shows what its request would change. */
export function ProposeButton({
  state,
  desk,
  book,
  request,
  off = false,
  children,
}: Given): JSX.Element | null {
  if (state.proposal !== null) return null;
  return (
    <InFoot>
      <Button
        main
        off={off || state.busy !== null}
        press={() => {
          const today = desk.host()?.today() ?? book.reading.ours.settings.reportDate;
          void desk.propose(state.section, request(today));
        }}
      >
        {children}
      </Button>
    </InFoot>
  );
}
