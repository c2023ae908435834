import { type DateSystem, fromSerial, isoText } from "../../core/day.ts";
import { counted } from "../records/problems.ts";
import type { Mend, Problem, Reading } from "../records/records.ts";
import type { Change } from "../sheets/result-plan.ts";
import { dateFormatIn, pageNamed, quoted, textOf } from "../workbook/cells.ts";
import { fingerprint } from "../workbook/expect.ts";
import type { Edit } from "../workbook/plan.ts";
import {
  address,
  cellKey,
  type CellValue,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../workbook/snapshot.ts";

/** A cell with what it holds and what it is certain to mean. */
interface Mended {
  readonly sheet: string;
  readonly cell: string;
  readonly from: string;
  readonly to: string;
}

/** What can be mended without asking, and the edits that do it. */
export interface Mending {
  readonly cells: readonly Mended[];
  readonly change: Change;
}

/** A problem whose cell is certain to mean something. */
type Certain = Problem & { readonly mend: Mend; readonly row: number; readonly column: number };

/** What a person says is to be mended besides. */
interface Allowed {
  readonly prices?: boolean;
  readonly swapped?: boolean;
}

/** Whether day and month of a true date may be swapped: its column shows the other reading. */
function isSwapped({ kind, mend }: Problem): boolean {
  return kind === "day and month swapped" && mend !== undefined;
}

function columnKey({ sheet, column }: Problem): string {
  return `${column ?? ""} ${sheet}`;
}

/**
 * Turns what is certain into what it means: text that is a date in one way only, numbers in text, stray
 * spaces, earlier names of a site. A cell with a formula is left to its author, a price of the book's own
 * price list until somebody says that prices are to be taken. Dates whose day and month may be swapped, and
 * the texts of their columns, which show it, wait until somebody says that they are.
 */
export function mendingOf(
  snapshot: Snapshot,
  { problems }: Reading,
  { prices = false, swapped = false }: Allowed = {},
): Mending {
  const open = new Set(problems.filter(isSwapped).map(columnKey));
  const certain = problems.filter(
    (problem): problem is Certain =>
      isCertain(problem) &&
      !isFormula(snapshot, problem) &&
      (prices || problem.kind !== "price offered") &&
      (swapped || !open.has(columnKey(problem))),
  );
  const cells = certain.map(({ sheet, row, column, mend }) => ({
    sheet,
    cell: address(row, column),
    from: asWritten(valueIn(snapshot, sheet, row, column)),
    to: mendText(mend, snapshot.dateSystem),
  }));
  const summary = `${counted(cells.length, "cell")} mended`;
  return { cells, change: { edits: editsOf(snapshot, certain), summary } };
}

/** Spaces are what may have to be mended: they are shown. */
function asWritten(value: CellValue): string {
  return typeof value === "string" ? quoted(value) : textOf(value);
}

/** What a cell is to hold, in words. */
export function mendText({ value, isDate }: Mend, dateSystem: DateSystem): string {
  const day = isDate && typeof value === "number" ? fromSerial(value, dateSystem) : null;
  return day === null ? String(value) : isoText(day);
}

function isCertain({ mend, row, column }: Problem): boolean {
  return mend !== undefined && row !== null && column !== null;
}

function isFormula(snapshot: Snapshot, { sheet, row, column }: Problem): boolean {
  const found = sheetNamed(snapshot, sheet);
  return row !== null && column !== null && found?.formulas.has(cellKey(row, column)) === true;
}

function valueIn(snapshot: Snapshot, name: string, row: number, column: number) {
  const sheet = sheetNamed(snapshot, name);
  return sheet === null ? null : valueAt(sheet, row, column);
}

/** An edit a column, so that each is refused if its cells have changed since. */
function editsOf(snapshot: Snapshot, certain: readonly Certain[]): Edit[] {
  const columns = new Map<string, Certain[]>();
  for (const problem of certain) {
    const key = columnKey(problem);
    columns.set(key, [...(columns.get(key) ?? []), problem]);
  }
  return [...columns.values()].flatMap((problems) => {
    const [first] = problems;
    const page = first === undefined ? null : pageNamed(snapshot, first.sheet);
    if (first === undefined || page === null) return [];
    const { column } = first;
    const rows = problems.map(({ row }) => row);
    const isDate = problems.some(({ mend }) => mend.isDate);
    return [
      {
        kind: "fillCells",
        sheet: first.sheet,
        blocks: [
          {
            column,
            rows,
            values: problems.map(({ mend }) => mend.value),
            ...(isDate ? { format: dateFormatIn(snapshot, page, column) } : {}),
          },
        ],
        expects: {
          unfiltered: true,
          key: {
            column,
            rows,
            fingerprint: fingerprint(rows.map((row) => valueAt(page.sheet, row, column))),
          },
        },
      },
    ];
  });
}
