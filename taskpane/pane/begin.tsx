import type { JSX } from "preact";
import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { oneStep } from "../../src/book/workbook/steps.ts";
import type { Desk } from "./desk.ts";
import { Button, Choice } from "./form.tsx";
import { InFoot } from "./in-foot.tsx";
import { onceFetched } from "./later.tsx";
import type { State, Trouble } from "./state.ts";
import { WORDS } from "./words.ts";

const words = WORDS.begin;

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

function Beginning({
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
              onceFetched(desk, ({ newRegisterPlan }) => {
                void desk.propose(state.section, {
                  steps: [() => oneStep(() => newRegisterPlan(reportDate, today))],
                });
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
