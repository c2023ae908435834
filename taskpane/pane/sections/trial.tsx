import type { JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import { type Answer, isRows } from "../../../functions/answer.ts";
import { type Definition, withDates } from "../../../functions/define.ts";
import { isoOf } from "../../../functions/help.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { type Area, address, type CellValue } from "../../../src/book/workbook/snapshot.ts";
import { oneStep } from "../../../src/book/workbook/steps.ts";
import { DATE_SYSTEM_SHIFT } from "../../../src/core/day.ts";
import type { Place } from "../../host.ts";
import type { Desk } from "../state/desk.ts";
import { Button, Input } from "../pieces/form.tsx";
import type { State } from "../state/state.ts";
import { blockText, callText, exampleTyped, readTyped } from "../state/typed.ts";
import { LATER_WORDS } from "../words/later-words.ts";

const words = LATER_WORDS.functions;
const FIRST = 5;

/** A form for one function: what it would answer, and the formula that gives it. */
export function Trial({
  definition,
  state,
  desk,
}: {
  readonly definition: Definition;
  readonly state: State;
  readonly desk: Desk;
}): JSX.Element {
  const { args, id, gives } = definition;
  const [typed, setTyped] = useState(() => exampleTyped(definition));
  const host = desk.host();
  const shift = state.snapshot?.dateSystem === 1904 ? DATE_SYSTEM_SHIFT : 0;
  const { rows, formula } = useMemo(
    () => answered(definition, typed, state.snapshot, shift),
    [typed, state.snapshot],
  );
  const put = (at: number, text: string): void => {
    setTyped((before) => args.map((_, index) => (index === at ? text : (before[index] ?? ""))));
  };
  const take = async (at: number): Promise<void> => {
    const block = await desk.ask((from) => from.selectedBlock?.() ?? Promise.resolve(null));
    if (block !== null) put(at, blockText(block));
  };
  const shown = withDates(gives, rows, (serial) => isoOf(serial + shift));
  return (
    <>
      {args.map(({ name, optional }, at) => (
        <div class="row" key={name}>
          <Input
            label={optional ? `${name} (${words.optional})` : name}
            value={typed[at] ?? ""}
            put={(text) => {
              put(at, text);
            }}
          />
          {host?.selectedBlock !== undefined && (
            <Button press={() => void take(at)}>
              {words.take}
              <span class="unseen">{` ${name}`}</span>
            </Button>
          )}
        </div>
      ))}
      <p class="hint">{words.hint}</p>
      <AnswerBox formula={formula} rows={isRows(shown) ? shown : []} />
      {host?.live === true && (
        <Button
          off={state.busy !== null}
          press={() => void insert(desk, { id, formula, rows, isDate: gives.kind === "date" })}
        >
          {words.insert}
        </Button>
      )}
    </>
  );
}

function answered(
  definition: Definition,
  typed: readonly string[],
  snapshot: State["snapshot"],
  shift: number,
): { readonly rows: readonly (readonly Answer[])[]; readonly formula: string } {
  const read = definition.args.map((arg, at) => readTyped(typed[at] ?? "", arg, snapshot));
  const result = definition.call(
    read.map(({ cells }) => cells),
    shift,
  );
  return { rows: isRows(result) ? result : [[result]], formula: callText(definition.id, read) };
}

function AnswerBox({
  formula,
  rows,
}: {
  readonly formula: string;
  readonly rows: readonly (readonly Answer[])[];
}): JSX.Element {
  return (
    <div class="box" role="status">
      <p>
        {words.formula}: <code>{`=${formula}`}</code>
      </p>
      <p>{`${words.gives}: `}</p>
      <ul>
        {rows.slice(0, FIRST).map((row, at) => (
          <li key={at}>{row.map(answerShown).join(" · ")}</li>
        ))}
        {rows.length > FIRST && <li>{words.more(rows.length - FIRST)}</li>}
      </ul>
    </div>
  );
}

function answerShown(answer: Answer): string {
  if (typeof answer === "object") return `${answer.error} ${answer.message}`;
  return answer === "" ? words.blank : String(answer);
}

interface Call {
  readonly id: string;
  readonly formula: string;
  readonly rows: readonly (readonly Answer[])[];
  readonly isDate: boolean;
}

/** Shows the plan that writes the call into the selected cell; the cells it spills over must be empty. */
async function insert(desk: Desk, call: Call): Promise<void> {
  const place = await desk.ask((host) => host.selected());
  if (place !== null)
    await desk.propose("functions", { steps: [() => oneStep(() => insertPlan(call, place))] });
}

function insertPlan({ id, formula, rows, isDate }: Call, place: Place): Plan {
  const { sheet, row, column } = place;
  const empty: Area = {
    firstRow: row,
    firstColumn: column,
    lastRow: row + Math.max(rows.length, 1) - 1,
    lastColumn: column + Math.max(rows[0]?.length ?? 1, 1) - 1,
  };
  const first = rows[0]?.[0] ?? null;
  const value: CellValue =
    typeof first === "object" ? (first === null ? null : { error: first.error }) : first;
  return {
    summary: words.inserted(id, `${sheet}!${address(row, column)}`),
    edits: [
      {
        kind: "fillCells",
        sheet,
        blocks: [
          {
            column,
            rows: [row],
            values: [value],
            formula: { text: formula, live: true },
            ...(isDate ? { format: "yyyy-mm-dd" } : {}),
          },
        ],
        expects: { empty, unfiltered: true },
      },
    ],
  };
}
