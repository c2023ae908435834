import { LANGUAGES } from "../../languages/index.ts";
import { phraseOf } from "../../languages/words-of.ts";
import { isBlank, isBlankRow, type Page, textOf, trueDate } from "../../workbook/cells.ts";
import type { HeadingRows } from "../../headings/headings.ts";
import { wordsOf } from "../../headings/words.ts";
import { isGroupRow, isTitleAgain } from "./group-rows.ts";
import { isExample } from "./example-rows.ts";
import { isFootRow } from "./foot-rows.ts";
import type { ProblemKind } from "../../records/problem-kinds.ts";
import type { Register } from "../../records/records.ts";
import type { RowNote } from "./row-faults.ts";
import { saysRetired } from "../../records/retired-words.ts";
import { cellKey, type CellValue, isCellError, type Sheet } from "../../workbook/snapshot.ts";

/** Device rows, and every other row below the heading with the reason why it is none. */
export interface SortedRows {
  readonly rows: readonly number[];
  readonly leftOut: Register["leftOut"];
  readonly notes: readonly RowNote[];
}

export const NO_DEVICE = "no device id";
export const NOTE = "a label or note";
const TOTAL =
  /^(?:sub-?\s?|grand\s|overall\s)?totals?\b|\b(?:sub)?totals?:?$|^(?:sum|average|mean)\b/i;
/** The same in the other languages, by itself: longer texts may be devices, and none is left out on a guess. */
const FOREIGN_TOTALS = new Set(LANGUAGES.flatMap(({ totals }) => totals.map(phraseOf)));
const OF_PAGE = / (?:pag(?:e|ina)|seite|blad|strony)$/u;
const TOTAL_FORMULA = /^(?:SUBTOTAL|SUM|AGGREGATE)\(/i;
/** States that stand as titles above the devices that have them. */
const STATES =
  /^(?:(?:devices\s+)?(?:out\s+of|not\s+in|no\s+longer\s+in)\s+(?:service|use|order)|withdrawn|inactive|retired\s+devices)\b[^\d]*$/i;
const COUNT = /^\s*\d+\s+(\p{L}{4,})(?:\s+(?:in\s+(?:all|total)|altogether))?\.?\s*$/u;
const NOUNS: ReadonlySet<string> = new Set(["device", "devices", "units", "screeners", "items"]);
const LONGEST_TOTAL = 40;
const NOTE_WORDS = 4;
/** "Electrodes: 8 weeks", as no device is called. */
const TIMED = /:\s*\d+\s\p{L}{3,}$/u;

interface Shape {
  readonly lastRow: number;
  readonly columns: ReadonlyMap<string, number>;
}

/** Sorts the rows below a heading: devices, and rows left out with a reason. Nothing is dropped. */
export function sortRows(
  page: Page,
  heading: HeadingRows,
  { lastRow, columns }: Shape,
): SortedRows {
  const { sheet } = page;
  const device = columns.get("device") ?? 0;
  const look: Look = {
    sheet,
    device,
    site: columns.get("site") ?? device,
    first: heading.first,
    headings: headingCells(sheet, heading),
    across: labelRows(sheet),
    totals: new Set(sheet.tables.filter((one) => one.totalsRow).map(({ area }) => area.lastRow)),
  };
  const dates = [...columns].flatMap(([field, at]) => (DATED.test(field) ? at : []));
  const rows: number[] = [];
  const leftOut: { row: number; reason: string }[] = [];
  const notes: RowNote[] = [];
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    const reason = reasonToLeaveOut(look, row, rows);
    // Without a name it is in use all the same: a date says so.
    // Nor is it a sum, whatever it is called.
    const mayServe = reason === NO_DEVICE || (reason === SUBTOTAL && !look.totals.has(row));
    if (reason === null || (mayServe && isInUse(page, dates, row))) {
      rows.push(row);
      continue;
    }
    leftOut.push({ row, reason });
    if (reason === STATE) notes.push(["stateAlone", sheet.name, row, loneText(sheet, row)]);
    const told = LEFT_OUT[reason];
    if (told !== undefined) notes.push(["leftOut", sheet.name, row, told]);
  }
  return { rows, leftOut, notes };
}

function loneText({ values }: Sheet, row: number): string {
  return textOf((values[row] ?? []).find((value) => !isBlank(value)) ?? null);
}

/** Fields whose day says that a row is a device's. */
const DATED = /^(?:commissioned$|last:)/;

/** Whether the row's device was put into service, or a part of it replaced, on a day. */
function isInUse(page: Page, dates: readonly number[], row: number): boolean {
  return dates.some((column) => trueDate(page, row, column) !== null);
}

export const FOOT = "a signature or a page number";
const EXAMPLE = "an example";
const SUBTOTAL = "subtotal";
export const REPEATED = "repeated heading";
export const STATE = "a state of devices";
const LEFT_OUT: Readonly<Record<string, readonly [ProblemKind, string]>> = {
  [SUBTOTAL]: ["subtotal row", "holds a total"],
  [REPEATED]: ["repeated heading", "repeats the headings"],
  [FOOT]: ["foot row", `holds ${FOOT}`],
  [EXAMPLE]: ["foot row", `holds ${EXAMPLE}`],
};

interface Look {
  readonly sheet: Sheet;
  readonly device: number;
  readonly site: number;
  /** The first row of the heading. */
  readonly first: number;
  /** Its own cells, row by row. */
  readonly headings: readonly (readonly CellValue[])[];
  /** Rows with a label merged across several columns. */
  readonly across: ReadonlySet<number>;
  /** Rows that a native table keeps for its totals. */
  readonly totals: ReadonlySet<number>;
}

function headingCells(sheet: Sheet, heading: HeadingRows): (readonly CellValue[])[] {
  const cells: (readonly CellValue[])[] = [];
  for (let row = heading.first; row <= heading.last; row += 1) cells.push(sheet.values[row] ?? []);
  return cells;
}

function labelRows(sheet: Sheet): ReadonlySet<number> {
  return new Set(
    sheet.merges.filter((area) => area.lastColumn > area.firstColumn).map((area) => area.firstRow),
  );
}

function reasonToLeaveOut(look: Look, row: number, above: readonly number[]): string | null {
  const cells = look.sheet.values[row] ?? [];
  const id = cells[look.device] ?? null;
  if (isBlank(id) && isBlankRow(cells)) return "blank";
  if (isTotal(look, row, cells) || isCountBelow(look, cells, above)) return SUBTOTAL;
  if (isOfPaper(look, row, above)) return FOOT;
  if (above.length === 0 && isExample(cells, id)) return EXAMPLE;
  if (repeatsHeading(look, cells)) return REPEATED;
  if (saysStateAlone(cells)) return STATE;
  if (isLoneText(look, row, cells)) return NOTE;
  return isBlank(id) || isCellError(id) ? NO_DEVICE : null;
}

/** A signature or the number of a page; a device that stands in the list signs nothing. */
function isOfPaper({ sheet, device }: Look, row: number, above: readonly number[]): boolean {
  const idIn = (at: number): CellValue => sheet.values[at]?.[device] ?? null;
  return isFootRow(sheet, row, device) && !above.some((at) => sameText(idIn(at), idIn(row)));
}

function isTotal(look: Look, row: number, cells: readonly CellValue[]): boolean {
  const { sheet, device, site } = look;
  if (look.totals.has(row)) return true;
  const id = cells[device] ?? null;
  if (saysTotal(id)) return true;
  if (!isBlank(id)) return !NUMBERED.test(textOf(id)) && isGroupRow(look, cells);
  if (saysTotal(cells[site] ?? null)) return true;
  if (saysTotal(cells.find((value) => !isBlank(value)) ?? null)) return true;
  return (
    sheet.formulas.size > 0 &&
    cells.some((_, column) => TOTAL_FORMULA.test(sheet.formulas.get(cellKey(row, column)) ?? ""))
  );
}

/** Words such as "Total-5" or "SUM 01" that are a device's number all the same. */
const NUMBERED = /^\p{L}+[-_ ]?\d{1,3}$/u;

/** Whether a text is a word for a total, or how many devices there are. */
export function saysTotal(value: CellValue): boolean {
  if (typeof value === "string" && NUMBERED.test(value.trim())) return false;
  if (typeof value !== "string" || value.length > LONGEST_TOTAL) return false;
  if (TOTAL.test(value.trim()) || saysCount(value)) return true;
  // No word for a total has a digit, and most names of devices have.
  const phrase = phraseOf(value).replace(OF_PAGE, "");
  return !/\d/.test(value) && FOREIGN_TOTALS.has(phrase);
}

/** "8 devices": how many there are, and none of them. */
function saysCount(text: string): boolean {
  const [, noun = ""] = COUNT.exec(text) ?? [];
  return noun !== "" && wordsOf(noun, NOUNS).some((word) => NOUNS.has(word.text));
}

/** "Devices in all | 8": a label that no device has, and how many devices stand above, as a number under theirs. */
function isCountBelow(
  { sheet, device, site }: Look,
  cells: readonly CellValue[],
  above: readonly number[],
): boolean {
  const id = cells[device] ?? null;
  if (device === site || !/^\d+$/u.test(textOf(id))) return false;
  const label = cells[site] ?? null;
  if (typeof label !== "string" || isBlank(label) || /\d/u.test(label)) return false;
  if (saysTotal(label)) return true;
  const isSite = above.some((row) => sameText(sheet.values[row]?.[site] ?? null, label));
  return !isSite && above.length > 1 && Number(textOf(id)) === above.length;
}

/** Half of what the row shows, and at least two cells, stand above it as headings. */
function repeatsHeading({ headings, device }: Look, cells: readonly CellValue[]): boolean {
  const id = cells[device] ?? null;
  if (!isBlank(id) && !headings.some((line) => sameText(line[device] ?? null, id))) return false;
  let filled = 0;
  let same = 0;
  cells.forEach((value, column) => {
    if (isBlank(value)) return;
    filled += 1;
    if (headings.some((line) => sameText(line[column] ?? null, value))) same += 1;
  });
  return same >= 2 && same * 2 >= filled;
}

function sameText(one: CellValue, other: CellValue): boolean {
  return (
    typeof one === "string" &&
    typeof other === "string" &&
    textOf(one).toLowerCase() === textOf(other).toLowerCase()
  );
}

/** One cell alone in its row that says that devices have left, as no device is called. */
function saysStateAlone(cells: readonly CellValue[]): boolean {
  const [lone, ...others] = cells.filter((value) => !isBlank(value));
  if (others.length > 0 || typeof lone !== "string") return false;
  return saysRetired(lone) || STATES.test(lone.trim());
}

/** One cell alone in its row that is a label across the columns or a sentence. */
function isLoneText(
  { across, sheet, first }: Look,
  row: number,
  cells: readonly CellValue[],
): boolean {
  let lone: CellValue = null;
  for (const value of cells) {
    if (isBlank(value)) continue;
    if (lone !== null) return false;
    lone = value;
  }
  if (typeof lone !== "string") return false;
  const text = lone.trim();
  const isLabel = across.has(row) || text.split(/\s+/).length >= NOTE_WORDS || TIMED.test(text);
  return isLabel || isTitleAgain(sheet, first, text);
}
