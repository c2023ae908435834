import type { Result } from "../../functions/answer.ts";
import type { Definition } from "../../functions/define.ts";
import { formulaText } from "../../functions/help.ts";
import { functions } from "../../functions/index.ts";
import type { AddSheet, SheetCell } from "../book/workbook/plan.ts";
import type { CellValue } from "../book/workbook/snapshot.ts";

/** The sheet on which Excel shows, function by function, that it calls ours and that they give what they must. */
const SHEET = "First run";
const HEADINGS = ["Function", "In this Excel", "Must be", "Same"] as const;
const HEADING_ROW = 3;

/** What stands there until Excel has worked it out: never the answer itself, or nothing would be shown. */
const NOT_YET = "not calculated yet";

/** The first run's sheet: each function's first example as a formula, beside what it must give. */
export function firstRunSheet(): AddSheet {
  const first = HEADING_ROW + 2;
  const last = first + functions.length - 1;
  const cells: SheetCell[] = [
    { row: 0, column: 0, value: "First run", look: "title" },
    {
      row: 1,
      column: 0,
      value: NOT_YET,
      formula: {
        text: `COUNTIF(D${first}:D${last},"yes")&" of ${functions.length} functions give what they must"`,
        live: false,
      },
    },
    ...HEADINGS.map((value, column): SheetCell => ({
      row: HEADING_ROW,
      column,
      value,
      look: "heading",
    })),
    ...functions.flatMap((one, at) => rowOf(one, HEADING_ROW + 1 + at)),
  ];
  const widths = [18, 24, 24, 10];
  return { kind: "addSheet", sheet: SHEET, cells, widths, freezeRows: HEADING_ROW + 1 };
}

function rowOf(definition: Definition, row: number): SheetCell[] {
  const [example] = definition.examples;
  if (example === undefined) throw new Error(`${definition.id} has no example`);
  const call = formulaText(definition, example).slice(1);
  const isTable = Array.isArray(example.gives);
  const text = isTable ? `INDEX(${call},1,1)` : call;
  const [ours, must] = [`B${row + 1}`, `C${row + 1}`];
  const same = `IF(ISERROR(${ours}),"NO",IF(${ours}=${must},"yes",IF(ISNUMBER(${ours}),IF(ABS(${ours}-${must})<=0.000000001*ABS(${must}),"yes","NO"),"NO")))`;
  return [
    { row, column: 0, value: definition.id },
    { row, column: 1, value: NOT_YET, formula: { text, live: true } },
    { row, column: 2, value: firstOf(example.gives) },
    { row, column: 3, value: NOT_YET, formula: { text: same, live: false } },
  ];
}

/** What the first cell of an answer holds; the first example of a function is never an error. */
function firstOf(gives: Result): CellValue {
  const answer = Array.isArray(gives) ? (gives[0] as readonly CellValue[])[0] : gives;
  if (answer === null || answer === undefined || typeof answer === "object") {
    throw new Error("the first example of a function must be an answer");
  }
  return answer;
}
