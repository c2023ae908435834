import type { JSX } from "preact";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { newRegisterPlan } from "../../../src/book/sheets/new-register.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import type { Desk } from "../state/desk.ts";
import { Button, Choice } from "../pieces/form.tsx";
import { InFoot } from "../pieces/in-foot.tsx";
import { LATER_WORDS } from "../words/later-words.ts";
import type { State } from "../state/state.ts";

const words = LATER_WORDS.begin;

/** The sheet that holds the devices, chosen, or a new register. */
export function Beginning({
  state,
  desk,
  snapshot,
}: {
  readonly state: State;
  readonly desk: Desk;
  readonly snapshot: Snapshot;
}): JSX.Element {
  const { matches, busy, proposal } = state;
  return (
    <>
      <p>{words.text}</p>
      <Choice
        label={words.sheet}
        value={matches.get("register") ?? ""}
        put={(sheet) => {
          void desk.choose({ matches: new Map(sheet === "" ? [] : [["register", sheet]]) });
        }}
        among={[
          ["", words.any],
          ...snapshot.sheets.map(({ name }): [string, string] => [name, name]),
        ]}
      />
      {snapshot.dateSystem === 1904 && <p>{words.days1904}</p>}
      {snapshot.dateSystem !== 1904 && proposal === null && (
        <InFoot>
          <Button
            main
            off={busy !== null}
            press={() => {
              const today = desk.host()?.today();
              if (today === undefined) return;
              const reportDate = state.reportDate ?? today;
              void desk.propose(state.section, {
                steps: [() => oneStep(() => newRegisterPlan(reportDate, today))],
              });
            }}
          >
            {words.start}
          </Button>
        </InFoot>
      )}
    </>
  );
}
