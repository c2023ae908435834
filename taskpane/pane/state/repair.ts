import type { ColumnCells, Edit, Plan } from "../../../src/book/workbook/plan.ts";
import { callsUs } from "../../../src/book/workbook/calls.ts";
import {
  cellAt,
  isCellError,
  type Sheet,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { LATER_WORDS } from "../words/later-words.ts";

/** A cell whose call of our functions reached nobody. */
interface LostCall {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly formula: string;
}

/** Every cell that calls our functions and is not led to them: it shows #NAME?, or what it last showed. */
export function lostCalls({ sheets }: Snapshot): LostCall[] {
  return sheets.flatMap((sheet) => lostIn(sheet));
}

function lostIn(sheet: Sheet): LostCall[] {
  const lost: LostCall[] = [];
  for (const [key, formula] of sheet.formulas) {
    const { row, column } = cellAt(key);
    const value = valueAt(sheet, row, column);
    const isNameless = isCellError(value) && value.error === "#NAME?";
    if ((isNameless || sheet.lost?.has(key) === true) && callsUs(formula)) {
      lost.push({ sheet: sheet.name, row, column, formula });
    }
  }
  return lost.sort((one, other) => one.row - other.row || one.column - other.column);
}

/** The plan that writes the same formulas anew, which is what makes Excel look for the functions again. */
export function repairPlan(snapshot: Snapshot): Plan {
  const lost = lostCalls(snapshot);
  const edits = snapshot.sheets.flatMap(({ name }): Edit[] => {
    const here = lost.filter(({ sheet }) => sheet === name);
    if (here.length === 0) return [];
    return [
      { kind: "fillCells", sheet: name, blocks: blocksOf(here), expects: { unfiltered: true } },
    ];
  });
  return { summary: LATER_WORDS.check.repaired(lost.length), edits };
}

/** Cells of a column whose formulas differ by their row alone go together. */
function blocksOf(cells: readonly LostCall[]): ColumnCells[] {
  const groups = new Map<string, { column: number; text: string; rows: number[] }>();
  for (const { row, column, formula } of cells) {
    const text = formula.replaceAll(new RegExp(`(?<=[A-Z])${row + 1}(?![\\d(])`, "g"), "{r}");
    const key = `${column} ${text}`;
    const group = groups.get(key) ?? { column, text, rows: [] };
    groups.set(key, group);
    group.rows.push(row);
  }
  return [...groups.values()].map(({ column, text, rows }) => ({
    column,
    rows,
    values: rows.map(() => null),
    formula: { text, live: true },
  }));
}
