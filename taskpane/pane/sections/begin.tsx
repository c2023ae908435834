import type { JSX } from "preact";
import type { Desk } from "../state/desk.ts";
import { Button } from "../pieces/form.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { later } from "./later.tsx";
import type { State, Trouble } from "../state/state.ts";
import { WORDS } from "../words/words.ts";

/** How to begin; it comes later, for most workbooks have a register. */
const Beginning = later((pages) => pages.Beginning);

/** Why there is no workbook to work on, and what can be done about it. */
export function BeginSection({
  state,
  trouble,
  desk,
}: {
  readonly state: State;
  readonly trouble: Trouble;
  readonly desk: Desk;
}): JSX.Element {
  const { snapshot, busy, proposal } = state;
  const canBegin = trouble.kind === "register" && snapshot !== null;
  return (
    <>
      <h2 tabIndex={-1}>{WORDS.noBook[trouble.kind]}</h2>
      <p class="note">{trouble.sentence}</p>
      {trouble.kind === "patients" && <p>{WORDS.patients}</p>}
      {canBegin && <Beginning {...{ state, desk, snapshot }} />}
      {proposal === null && (
        <InFoot>
          <Button main={!canBegin} off={busy !== null} press={() => void desk.read()}>
            {WORDS.readAgain}
          </Button>
        </InFoot>
      )}
    </>
  );
}
