import { keyOf, lastFilledRow, type Page, quoted, textOf, widest } from "../workbook/cells.ts";
import { columnLetters } from "../workbook/snapshot.ts";
import { type Evidence, evidenceOf } from "./column-profile.ts";
import type { HeadingRows } from "./headings.ts";

interface Headed {
  readonly page: Page;
  readonly heading: HeadingRows;
}

interface Column {
  readonly column: number;
  readonly text: string;
  readonly evidence: Evidence;
}

/** From this share of different names on a column names a device in each row. */
const ONE_ROW_EACH = 0.8;
/** As far as pairs of columns are looked at. */
const WIDEST = 12;

/**
 * What to do where no heading says which column names the devices: the one over the values most like names, the first
 * of equals, or two that do so together. Null where nothing is like names.
 */
export function whichDevice({ page, heading }: Headed): string | null {
  const last = lastFilledRow(page.sheet);
  const rows = rowsFrom(heading.last + 1, last);
  const width = widest(rows.map((row) => page.sheet.values[row]));
  const columns = [...Array(Math.max(width, heading.texts.length)).keys()].map((column) => {
    const evidence = evidenceOf(page, column, heading.last + 1, last);
    return { text: heading.texts[column] ?? "", column, evidence };
  });
  const most = Math.max(1, ...columns.map(({ evidence }) => evidence.filled));
  const names = (one: Column): number =>
    namesThings(one.evidence, most) + CODED * codedIn(page, one.column, heading);
  const [best] = [...columns].sort((one, other) => names(other) - names(one));
  if (best === undefined || names(best) === 0) return null;
  if (best.evidence.distinct < ONE_ROW_EACH) return together(page, rows, columns);
  const isBare = best.text === "";
  const over = isBare
    ? `column ${columnLetters(best.column)}, which seems to name them and has no heading`
    : "the column that names the devices";
  return `write Device over ${over}${isBare ? "" : `, or give --match "device=${best.text}"`}`;
}

/** Two columns that name each device together, where none does by itself. */
function together(page: Page, rows: readonly number[], columns: readonly Column[]): string {
  const free = columns.filter(({ text, evidence: { dates, distinct } }) => {
    return text !== "" && dates < ONE_ROW_EACH && distinct < ONE_ROW_EACH;
  });
  for (const [at, first] of free.slice(0, WIDEST).entries()) {
    const other = free
      .slice(at + 1, WIDEST)
      .find(({ column }) => tellApart(page, rows, [first.column, column]));
    if (other !== undefined) {
      const both = bothIn(page, rows[0] ?? 0, [first.column, other.column]);
      return `${quoted(first.text)} and ${quoted(other.text)} name each device together: write both into one column headed Device, such as ${quoted(both)}, in the counts and in the Job log too`;
    }
  }
  return "write Device over the column that names the devices, one in each row";
}

/** Whether what two columns say is another in each row. */
export function tellApart(page: Page, rows: readonly number[], columns: readonly number[]) {
  const filled = rows.filter((row) =>
    columns.every((column) => textOf(page.sheet.values[row]?.[column] ?? null) !== ""),
  );
  const said = new Set(filled.map((row) => keyOf(bothIn(page, row, columns))));
  return filled.length > 1 && filled.length === rows.length && said.size === rows.length;
}

/** What columns say in a row, as one name. */
export function bothIn(page: Page, row: number, columns: readonly number[]): string {
  return columns.map((column) => textOf(page.sheet.values[row]?.[column] ?? null)).join(" ");
}

function rowsFrom(first: number, last: number): number[] {
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, at) => first + at);
}

/** Different in each row and filled in all of them; running numbers are less than names. */
function namesThings({ filled, dates, numbers, distinct }: Evidence, most: number): number {
  return distinct * (1 - dates) * (1 - numbers / 2) * (filled / most);
}

/** What letters with a number beside them, as "Unit 4", say more. */
const CODED = 0.6;
const CODE = /^(?=.*\p{L})\D*\d{1,6}\D{0,2}$/u;

function codedIn({ sheet }: Page, column: number, { last }: HeadingRows): number {
  const texts = sheet.values
    .slice(last + 1)
    .map((cells) => textOf(cells[column] ?? null))
    .filter((text) => text !== "");
  return texts.length === 0 ? 0 : texts.filter((text) => CODE.test(text)).length / texts.length;
}
