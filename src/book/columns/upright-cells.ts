import { firstWords } from "../reading/told/first-words.ts";
import { listed } from "../records/problems.ts";
import { freeName } from "../sheets/layout.ts";
import { isBlank, quoted, textOf, trueDate, widest } from "../workbook/cells.ts";
import type { Plan, SheetCell } from "../workbook/plan.ts";
import {
  address,
  cellKey,
  type CellValue,
  isCellError,
  type Snapshot,
} from "../workbook/snapshot.ts";
import { doubtedDate, doubtOfDate } from "./doubted-cells.ts";
import { type CellPlace, type From, isPlace, leftOf, type Upright } from "../headings/upright.ts";

const WIDE = 18;
const SHOWN = 20;

/**
 * The rows as a new sheet: cells as they are, so that what is to be asked about them is asked of it. A date that does
 * not simply hold stays as text with its doubt, one of a formula too, since it may move; what people wrote to the
 * cells of a device goes into a column of its own.
 */
export function uprightPlan(
  snapshot: Snapshot,
  found: Upright,
): { readonly plan: Plan; readonly sheet: string; readonly told: readonly string[] } {
  const { pages, shape, rows } = found;
  const sheet = freeName(snapshot, "Equipment");
  const wide = widest(rows);
  const said = rows.map((row) => row.flatMap(commentOf).join("; "));
  const hasComments = said.some((text) => text !== "");
  const cells = rows.flatMap((row, at): SheetCell[] => [
    ...row.flatMap((from, column) => newCell(snapshot, from, { row: at, column }) ?? []),
    ...(hasComments && said[at] !== "" ? [{ row: at, column: wide, value: said[at] ?? null }] : []),
  ]);
  if (hasComments) cells.push({ row: 0, column: wide, value: "Remarks" });
  const names = listed(pages.map((page) => page.sheet.name));
  const summary = `sheet ${sheet}, made from the ${shape} of ${names}`;
  const widths = Array.from({ length: wide + (hasComments ? 1 : 0) }, () => WIDE);
  const edit = { kind: "addSheet", sheet, cells, widths, freezeRows: 1 } as const;
  return { plan: { summary, edits: [edit] }, sheet, told: toldOf(found) };
}

/** What a cell of the new sheet says; null where it is blank. */
function newCell(
  { formats }: Snapshot,
  from: From,
  at: { readonly row: number; readonly column: number },
): SheetCell | null {
  if (from === null) return null;
  if (typeof from === "string") return { ...at, value: from };
  const { page, row, column } = ofMerged(from);
  const value: CellValue = page.sheet.values[row]?.[column] ?? null;
  if (isBlank(value)) return null;
  if (trueDate(page, row, column) === null) {
    return { ...at, value: isCellError(value) ? textOf(value) : value };
  }
  const doubt = doubtOfCell({ page, row, column }, ofMerged(from) !== from);
  if (doubt !== null) {
    return { ...at, value: doubtedDate(page, { row, column, headerRow: row }, doubt) };
  }
  const format = formats[page.sheet.formats[row]?.[column] ?? 0];
  return { ...at, value, ...(format === undefined ? {} : { format }) };
}

/** Why the date of a cell does not simply hold for one device; null where it does. */
function doubtOfCell({ page, row, column }: CellPlace, isMerged: boolean): string | null {
  if (isMerged) return "from merged cells";
  if (page.sheet.formulas.has(cellKey(row, column))) return "given by a formula";
  return doubtOfDate(page, { row, column, headerRow: row });
}

/** The cell that has the value of merged ones; the cell itself where it is not merged, or has it. */
function ofMerged(from: CellPlace): CellPlace {
  const { page, row, column } = from;
  const area = page.sheet.merges.find(
    ({ firstRow, firstColumn, lastRow, lastColumn }) =>
      row >= firstRow && row <= lastRow && column >= firstColumn && column <= lastColumn,
  );
  if (area === undefined || (area.firstRow === row && area.firstColumn === column)) return from;
  return { page, row: area.firstRow, column: area.firstColumn };
}

function commentOf(from: From): string[] {
  if (!isPlace(from)) return [];
  const { page, row, column } = from;
  const said = page.sheet.comments?.get(cellKey(row, column));
  return said === undefined ? [] : [`comment to ${address(row, column)} ${firstWords(said)}`];
}

/** What of the sheets is on the new one nowhere, and that some of it had a line through it. */
function toldOf(found: Upright): string[] {
  return found.pages.flatMap((page) => {
    const { name, struck } = page.sheet;
    const left = leftOf(page, found).sheet.values.flatMap((cells) =>
      cells.flatMap((value) => (isBlank(value) ? [] : quoted(textOf(value)))),
    );
    const places = found.rows.flat().filter(isPlace);
    const isStruck = places.some(
      (from) => from.page === page && struck?.has(cellKey(from.row, from.column)) === true,
    );
    return [
      ...(left.length === 0
        ? []
        : [
            `Not taken from ${name}: ${listed(left, SHOWN)}. See whether anything there changes a date.`,
          ]),
      ...(isStruck
        ? [
            `${name} has cells with a line through them: dates among them are in doubt, devices count as in service.`,
          ]
        : []),
    ];
  });
}
