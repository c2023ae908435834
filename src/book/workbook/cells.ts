import { type Day, fromSerial, isoText } from "../../core/day.ts";
import { type CellValue, isCellError, type Sheet, type Snapshot } from "./snapshot.ts";

/** Quoted text, escaped characters, padding and bracketed parts, but not [h] and such, of a format code. */
const LITERALS = /"[^"]*"|\\.|_.|\*.|\[(?!h+\]|m+\]|s+\])[^\]]*\]/gi;

/** Whether a cell shows nothing: blank, or text of spaces only. */
export function isBlank(value: CellValue): boolean {
  return value === null || (typeof value === "string" && value.trim() === "");
}

/** A cell's text without outer spaces, no-break spaces included; "" for blanks and cell errors. */
export function textOf(value: CellValue): string {
  if (typeof value === "string") return value.trim();
  return value === null || isCellError(value) ? "" : String(value);
}

/** Marks that show nothing: what Unicode calls format marks, and what it says to ignore in display. */
const UNSEEN = /[\p{Cf}\p{Default_Ignorable_Code_Point}]/gu;
/** Plain letters, digits and signs, none of which is unseen or a space. */
const PLAIN = /^[!-~]*$/;

/**
 * What all spellings of a name have in common that look alike: letter case, kinds and runs of spaces,
 * marks nobody sees and the way an accent is stored do not matter.
 */
export function keyOf(text: string): string {
  if (PLAIN.test(text)) return text.toLowerCase();
  const seen = text.normalize("NFC").replaceAll(UNSEEN, "").replaceAll(/\s+/g, " ");
  return seen.trim().toLowerCase();
}

/** Text shown in a sentence, cut where it is long. */
export function quoted(text: string): string {
  return text.length > 40 ? `"${text.slice(0, 40)}…"` : `"${text}"`;
}

/** Whether a number format code shows a date. */
export function showsDate(code: string): boolean {
  const bare = code.replace(LITERALS, "").toLowerCase();
  if (bare === "general") return false;
  return /[yd]/.test(bare) || (bare.includes("m") && !/[hs]/.test(bare));
}

/** Words or marks beside a date in its number format, such as "planned" or "?"; not what a language writes within one. */
const SAYS_MORE = /^(?!\s*(?:den|del|uhr)\s*$).*(?:\p{L}{3}|[?~])/iu;

function writesWords(code: string): boolean {
  // Every other piece stands in quotation marks.
  return (
    /\\[?~]/.test(code) || code.split('"').some((text, at) => at % 2 === 1 && SAYS_MORE.test(text))
  );
}

/** A sheet with what is needed to tell dates from numbers. */
export interface Page {
  readonly sheet: Sheet;
  readonly dateSystem: 1900 | 1904;
  /** By format index: whether the format shows a date. */
  readonly dateFormats: readonly boolean[];
  /** By format index: whether the format writes words beside what it shows. */
  readonly wordFormats: readonly boolean[];
}

/** Every sheet of a snapshot as a page. */
export function pagesOf(snapshot: Snapshot): Page[] {
  const dateFormats = snapshot.formats.map(showsDate);
  const wordFormats = snapshot.formats.map(writesWords);
  const { dateSystem } = snapshot;
  return snapshot.sheets.map((sheet) => ({ sheet, dateSystem, dateFormats, wordFormats }));
}

/** The sheet of that name as a page, or null. */
export function pageNamed(snapshot: Snapshot, name: string): Page | null {
  const wanted = name.toLowerCase();
  return pagesOf(snapshot).find(({ sheet }) => sheet.name.toLowerCase() === wanted) ?? null;
}

const ISO = "yyyy-mm-dd";

/** The format in which a column shows its dates: that of its first true date, else the ISO one. */
export function dateFormatIn({ formats }: Snapshot, page: Page, column: number): string {
  const row = page.sheet.values.findIndex((_, at) => trueDate(page, at, column) !== null);
  return row < 0 ? ISO : (formats[page.sheet.formats[row]?.[column] ?? 0] ?? ISO);
}

/** Whether the cell is formatted as a date. */
export function hasDateFormat(page: Page, row: number, column: number): boolean {
  return page.dateFormats[page.sheet.formats[row]?.[column] ?? 0] ?? false;
}

/** Whether the cell's number format writes words beside its value. */
export function hasWordFormat(page: Page, row: number, column: number): boolean {
  return page.wordFormats[page.sheet.formats[row]?.[column] ?? 0] ?? false;
}

/** The day of a true date: a number with a date format. Null for everything else. */
export function trueDate(page: Page, row: number, column: number): Day | null {
  const value = page.sheet.values[row]?.[column];
  if (typeof value !== "number" || !hasDateFormat(page, row, column)) return null;
  return fromSerial(value, page.dateSystem);
}

/** Identifier in a cell: a date stands as its ISO text, so that the same cell reads the same everywhere. */
export function identifierAt(page: Page, row: number, column: number): string {
  const date = trueDate(page, row, column);
  return date === null ? textOf(page.sheet.values[row]?.[column] ?? null) : isoText(date);
}

/** Cells of the longest of the rows, 0 without rows. */
export function widest(rows: readonly (readonly unknown[] | undefined)[]): number {
  return rows.reduce((most, cells) => Math.max(most, cells?.length ?? 0), 0);
}

/** Last row that shows anything, -1 for an empty sheet. */
export function lastFilledRow(sheet: Sheet): number {
  let row = sheet.values.length - 1;
  while (row >= 0 && isBlankRow(sheet.values[row])) row -= 1;
  return row;
}

/** Whether no cell of the row shows anything. */
export function isBlankRow(cells: readonly CellValue[] | undefined): boolean {
  return cells?.every(isBlank) ?? true;
}
