import type { JSX } from "preact";
import type { Day } from "../../src/core/day.ts";
import { Button } from "./form.tsx";
import type { SectionGiven } from "./section.ts";
import type { Wish } from "./state.ts";
import { WORDS } from "./words.ts";

/** The button that shows what a choice of Share would add. */
export function ShareButton({
  state,
  desk,
  book,
  wish,
  off = false,
}: SectionGiven & { readonly wish: (today: Day) => Wish; readonly off?: boolean }): JSX.Element {
  return (
    <Button
      main={state.proposal === null}
      off={off || state.busy !== null}
      press={() => {
        const today = desk.host()?.today() ?? book.reading.ours.settings.reportDate;
        void desk.propose("share", wish(today));
      }}
    >
      {WORDS.share.show}
    </Button>
  );
}
