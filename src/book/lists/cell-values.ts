import { civilDayOrNull, toSerial } from "../../core/day.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** A column of texts as cells: numbers and days where there is no other way to read them. */
export interface ColumnValues {
  readonly values: readonly CellValue[];
  /** By place: the value is a day. */
  readonly days: ReadonlySet<number>;
  /** A text that may be a number in two ways; null where there is none. */
  readonly unclear: string | null;
}

/** A whole date of ISO 8601, with midnight as databases add it. */
const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})(?:[T ]00:00(?::00(?:\.0+)?)?Z?)?$/;
const POINT = /^[-+]?(?:\d+|\d{1,3}(?:[,\s'’]\d{3})+)(?:\.\d+)?$/u;
const COMMA = /^[-+]?(?:\d+|\d{1,3}(?:[.\s'’]\d{3})+)(?:,\d+)?$/u;
/** A number of a list or a scale, not of an amount: its noughts would be lost. */
const KEEPS_NOUGHTS = /^[-+]?0\d/;
/** Digits a cell keeps. Source: IEEE 754, 53 bits; Excel's own limit. */
const MOST_DIGITS = 15;

/**
 * What the texts of one column are. A column with leading noughts or very long numbers is one of
 * identifiers and stays text; so does a number that its column does not settle, such as 1,500.
 */
export function columnValues(texts: readonly string[]): ColumnValues {
  const trimmed = texts.map((text) => text.trim());
  const isNumbers = !trimmed.some(isIdentifier);
  const mark = isNumbers ? decimalMark(trimmed) : null;
  const days = new Set<number>();
  let unclear: string | null = null;
  const values = trimmed.map((text, at): CellValue => {
    if (text === "") return null;
    const day = isoDay(text);
    if (day !== null) {
      days.add(at);
      return day;
    }
    if (!isNumbers) return text;
    const [point, comma] = [numberOf(text, "."), numberOf(text, ",")];
    if (point === null && comma === null) return text;
    const meant = point === comma ? point : mark === "." ? point : mark === "," ? comma : null;
    if (meant === null && point !== null && comma !== null) unclear ??= text;
    return meant ?? text;
  });
  return { values, days, unclear };
}

function isIdentifier(text: string): boolean {
  if (!/^[-+]?[\d.,\s'’]+$/u.test(text)) return false;
  return KEEPS_NOUGHTS.test(text) || text.replaceAll(/\D/g, "").length > MOST_DIGITS;
}

/** The decimal mark that texts with one meaning only agree on; null where they do not, or there are none. */
function decimalMark(texts: readonly string[]): "." | "," | null {
  let [point, comma] = [false, false];
  for (const text of texts) {
    const [asPoint, asComma] = [numberOf(text, "."), numberOf(text, ",")];
    if (asPoint !== null && asComma === null) point = true;
    if (asComma !== null && asPoint === null) comma = true;
  }
  return point === comma ? null : point ? "." : ",";
}

function numberOf(text: string, mark: "." | ","): number | null {
  if (!(mark === "." ? POINT : COMMA).test(text)) return null;
  const digits = text.replaceAll(mark === "." ? /[,\s'’]/gu : /[.\s'’]/gu, "");
  return Number(digits.replace(",", "."));
}

function isoDay(text: string): number | null {
  const [, year, month, dayOfMonth] = ISO_DATE.exec(text) ?? [];
  if (year === undefined) return null;
  const day = civilDayOrNull(Number(year), Number(month), Number(dayOfMonth));
  return day === null ? null : toSerial(day, 1900);
}
