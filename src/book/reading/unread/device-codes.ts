import { monthNamed, readDateText } from "../../headings/dates.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { folded } from "../../languages/words-of.ts";
import { identifierAt, lastFilledRow, type Page, trueDate, widest } from "../../workbook/cells.ts";
import type { Found } from "../register/register.ts";

/** Columns of a sheet that are looked at. */
export const FEW_COLUMNS = 60;
const LONGEST_CODE = 14;
/** A short code: one word or two, with a digit, or hardly longer than an initial. */
const CODE = /^(?=.*\d|.{1,3}$)[\p{L}\d][\p{L}\d_./#-]*(?: [\p{L}\d_./#-]+)?$/u;
const ALL_BUT_SLIPS = 0.9;
const KNOWN = new Set(knownWords());
/** What is said of devices and of the dates of their parts. */
const OF_DEVICES = new Set([
  ...["device", "electrode", "contact", "cushion", "coupler", "earpad", "replaced", "calibration"],
]);

/** A column of short codes, each with a day in its row. */
export interface Codes {
  readonly column: number;
  readonly ids: readonly string[];
  /** Columns of the days. */
  readonly dated: readonly number[];
}

/** The columns of a sheet that list short codes beside days. */
export function codesIn(page: Page): Codes[] {
  const last = lastFilledRow(page.sheet);
  const width = Math.min(FEW_COLUMNS, widest(page.sheet.values));
  const days = new Map<number, readonly number[]>();
  for (let row = 0; row <= last; row += 1) {
    const dated = daysIn(page, row, width);
    if (dated.length > 0) days.set(row, dated);
  }
  if (days.size === 0) return [];
  return Array.from({ length: width }, (_, column) => {
    const rows = [...days.keys()].filter((row) => isCode(page, row, column));
    const ids = [...new Set(rows.map((row) => identifierAt(page, row, column)))];
    const dated = [...new Set(rows.flatMap((row) => days.get(row) ?? []))];
    // One row a device, and hardly a row without one: a log names its devices again and again.
    const isList = ids.length >= rows.length * ALL_BUT_SLIPS && rows.length * 2 > days.size;
    return { column, ids: isList ? ids : [], dated };
  }).filter(({ ids }) => ids.length > 0);
}

function daysIn(page: Page, row: number, width: number): number[] {
  const found: number[] = [];
  for (let column = 0; column < width; column += 1) {
    const value = page.sheet.values[row]?.[column] ?? null;
    const isDay =
      trueDate(page, row, column) !== null ||
      (typeof value === "string" && (readDateText(value) !== null || tellsDay(value)));
    if (isDay) found.push(column);
  }
  return found;
}

/** A day in a sentence, with or without its year: "9 Feb", "Feb 9", "9. Februar", "09.02.". */
const DAYS = [
  /(?<!\d)\d{1,2}(?:st|nd|rd|th|\.)?\s?(?:of |de |d')?(?!may \p{L})(\p{L}{3,})/gu,
  /(?<!\p{L})(\p{L}{3,})\.? \d{1,2}(?!\d)/gu,
];
const IN_NUMBERS = /(?<![\d./-])\d{1,2}[./-]\d{1,2}(?![\d])/u;

/** Whether a note tells a day of a part, as in "electrodes 9 Feb". */
function tellsDay(note: string): boolean {
  if (!/\d/.test(note) || !isOfDevices(note)) return false;
  const text = folded(note);
  return (
    IN_NUMBERS.test(text) ||
    DAYS.some((form) =>
      [...text.matchAll(form)].some(([, name = ""]) => monthNamed(name) !== undefined),
    )
  );
}

function isCode(page: Page, row: number, column: number): boolean {
  const value = page.sheet.values[row]?.[column] ?? null;
  if (typeof value === "number") {
    return Number.isInteger(value) && value > 0 && trueDate(page, row, column) === null;
  }
  return (
    typeof value === "string" &&
    value.trim().length <= LONGEST_CODE &&
    CODE.test(value.trim()) &&
    readDateText(value) === null
  );
}

/** Whether a text has words of devices or of the dates of their parts. */
export function isOfDevices(text: string): boolean {
  return wordsOf(text, KNOWN).some((word) => OF_DEVICES.has(word.text));
}

/** Letters and digits of an identifier: "HS-07" and "HS-112" are alike. */
export function shapeOf(id: string): string {
  return id
    .replaceAll(/\d+/g, "0")
    .replaceAll(/\p{L}+/gu, (letters) => (letters.length > 1 ? letters.toLowerCase() : "a"));
}

/** The shapes of a register's identifiers. */
export function shapesOf({ page, columns, register }: Found): string[] {
  const device = columns.get("device") ?? 0;
  return register.rows.map((row) => shapeOf(identifierAt(page, row, device)));
}
