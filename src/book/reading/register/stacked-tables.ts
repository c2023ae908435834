import { fieldOfPart, isLastDone } from "../../records/positions.ts";
import type { HeadingRows } from "../../headings/headings.ts";
import { ACCEPTED, type Matcher } from "../../headings/match.ts";
import { notice } from "../../records/problems.ts";
import type { ColumnMatch, Problem } from "../../records/records.ts";
import { isBlank, type Page } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import { withWords } from "../told/told-later.ts";

/** A table that stands above or below the register on its sheet, under headings of its own. */
interface Stacked {
  /** Row of its headings. */
  readonly row: number;
}

interface Register {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly lastRow: number;
  readonly matches: readonly ColumnMatch[];
}

/**
 * Rows of headings of other tables on the register's sheet: what stands below them would be read by the wrong
 * headings, what stands above the register not at all. Headings said again in the same columns are none.
 */
export function stackedTables(register: Register, matcher: Matcher): Stacked[] {
  const { page, heading, lastRow } = register;
  const found: Stacked[] = [];
  for (let row = 0; row <= lastRow; row += 1) {
    if (row >= heading.first && row <= heading.last) continue;
    const cells = page.sheet.values[row] ?? [];
    if (!isWords(cells) || saysSame(register, cells)) continue;
    if (row === heading.first - 1 && saysAgain(register, matcher, row)) continue;
    if (headsDates(matcher, cells) || headsOurs(register, cells, row)) found.push({ row });
  }
  return found;
}

/** What is told of them. */
export function stackedSay({ page, heading }: Register, tables: readonly Stacked[]): Problem[] {
  const { name } = page.sheet;
  return tables.map(({ row }) =>
    withWords(
      notice("register not read", { sheet: name, row, column: null, heading: "" }, "", ""),
      ...(["stacked", page, row, heading] as const),
    ),
  );
}

/** Headings are words, two at least; rows of devices hold dates and numbers. */
function isWords(cells: readonly CellValue[]): boolean {
  const filled = cells.filter((cell) => !isBlank(cell));
  return filled.length >= 2 && filled.every((cell) => typeof cell === "string");
}

/** The register's own headings of devices and dates, in the same columns; our later ones are not said again. */
function saysSame({ page, heading, matches }: Register, cells: readonly CellValue[]): boolean {
  const own = page.sheet.values[heading.last] ?? [];
  const told = matches.filter(({ field }) => field === "device" || isLastDone(field));
  const again = told.filter(({ column }) => wordOf(cells[column]) !== "");
  return (
    again.some(({ field }) => isLastDone(field)) &&
    again.every(({ column }) => wordOf(cells[column]) === wordOf(own[column]))
  );
}

/** Whether a row says the headings of devices and dates again in other words of theirs, as in another language. */
export function saysAgain(
  { page, matches }: Pick<Register, "page" | "matches">,
  matcher: Matcher,
  row: number,
): boolean {
  const told = matches.filter(({ field }) => field === "device" || isLastDone(field));
  return (
    told.length > 1 &&
    told.every(({ field, column }) => {
      const cell = page.sheet.values[row]?.[column];
      const own = matcher.fields.find(({ key }) => key === fieldOfPart(field));
      if (own === undefined || typeof cell !== "string") return false;
      return matcher.likeness(cell, own, null) >= ACCEPTED;
    })
  );
}

function wordOf(cell: CellValue | undefined): string {
  return typeof cell === "string" ? cell.trim().toLowerCase() : "";
}

/** Headings of devices and of the last replacement of a part. */
function headsDates(matcher: Matcher, cells: readonly CellValue[]): boolean {
  const fields = cells.flatMap((cell) => {
    if (typeof cell !== "string" || cell.length > 80) return [];
    return matcher.fields.filter((field) => matcher.likeness(cell, field, null) >= ACCEPTED);
  });
  const keys = new Set(fields.map(({ key }) => key));
  return keys.has("device") && [...keys].some((key) => isLastDone(key));
}

/** Below the register: words, not days, in every column of its dates, one of them a heading it has elsewhere. */
function headsOurs(
  { heading, matches }: Register,
  cells: readonly CellValue[],
  row: number,
): boolean {
  if (row < heading.first) return false;
  const dated = matches.filter(({ field }) => isLastDone(field));
  const isWord = ({ column }: ColumnMatch): boolean => /^\D{3,}$/.test(wordOf(cells[column]));
  const texts = new Set(heading.texts.map((text) => text.trim().toLowerCase()));
  const again = cells.filter((cell) => texts.has(wordOf(cell)) && wordOf(cell) !== "");
  return dated.length > 0 && dated.every(isWord) && again.length > 0;
}
