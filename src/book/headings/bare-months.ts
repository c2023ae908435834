import type { CellValue } from "../workbook/snapshot.ts";
import { isBlank, type Page, textOf } from "../workbook/cells.ts";
import { folded } from "../languages/words-of.ts";
import { monthNamed } from "./dates.ts";
import type { HeadingRows } from "./headings.ts";

/** A heading that is a month by its number or bare name, such as M3, Month 3, P03 2026 or March. */
export interface BareMonth {
  readonly month: number;
  /** The year the heading itself states, null for none. */
  readonly year: number | null;
  /** It counts periods, which need not begin in January. */
  readonly isPeriod: boolean;
}

/** The word for a month and for a period, as short as people write them, in the languages we read. */
const MONTH = "m|mth|mon|month|monat|mois|mes|mese|maand|miesiac";
const PERIOD = "p|per|period|periode|periodo|okres";
const WORD = `(?<word>${MONTH}|${PERIOD})`;
const NUMBER = "(?<month>0?[1-9]|1[0-2])";
/** Two digits are a year only where they can be no month. */
const YEAR = "(?<year>20\\d{2}|1[3-9]|[2-9]\\d)";
const BETWEEN = "[-/. _']*";
const FORMS = [
  `${WORD}${BETWEEN}${NUMBER}`,
  `${WORD}${BETWEEN}${NUMBER}[-/., _']+${YEAR}`,
  `${YEAR}${BETWEEN}${WORD}${BETWEEN}${NUMBER}`,
  `(?<year>20\\d{2}) ${NUMBER}`,
  "(?<name>\\p{L}+)\\.?",
].map((form) => new RegExp(`^${form}$`, "u"));
const IS_PERIOD = new RegExp(`^(?:${PERIOD})$`);

/** What a heading says of a month without being a date. */
export function bareMonth(written: string): BareMonth | null {
  const text = folded(written).trim();
  for (const form of FORMS) {
    const { word = "", month = "", year, name } = form.exec(text)?.groups ?? {};
    const number = name === undefined ? Number(month) : (monthNamed(name) ?? 0);
    if (number === 0) continue;
    const full = year === undefined ? null : Number(year) + (year.length === 2 ? 2000 : 0);
    return { month: number, year: full, isPeriod: IS_PERIOD.test(word) };
  }
  return null;
}

/** The one year that stands above a heading or in its sheet's name, and the text that states it. */
export interface StatedYear {
  readonly year: number;
  /** The next year is named with it, as in "2025/26". */
  readonly isOfTwo: boolean;
  readonly text: string;
}

/** A day says when something was printed, not what the counts are of. */
const WHOLE_DATE = /\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}|\d{4}[-/.]\d{1,2}[-/.]\d{1,2}/g;
const YEARS = /(?<!\d)(20\d{2})(?:\s*[-/–]\s*(20\d{2}|\d{2})(?!\d))?(?!\d)/g;

/** The year stated for months that have none: null without one, and where more than one is named. */
export function statedYear({ sheet }: Page, { first, above }: HeadingRows): StatedYear | null {
  const textsFrom = (row: number): string[] =>
    sheet.values.slice(row, first).flatMap((cells) => cells.filter(isFilled).map(textOf));
  const own = above === undefined ? null : yearIn(textsFrom(above));
  return own ?? yearIn([sheet.name, ...textsFrom(0)]);
}

function isFilled(value: CellValue): boolean {
  return !isBlank(value);
}

function yearIn(texts: readonly string[]): StatedYear | null {
  const found: StatedYear[] = [];
  for (const text of texts) {
    for (const [, year = "", to] of text.replaceAll(WHOLE_DATE, "").matchAll(YEARS)) {
      const next = Number(year) + 1;
      if (to !== undefined && Number(to) % 100 !== next % 100) return null;
      found.push({ year: next - 1, isOfTwo: to !== undefined, text });
    }
  }
  const stated = found.find(({ isOfTwo }) => isOfTwo) ?? found[0];
  const agrees = ({ year, isOfTwo }: StatedYear): boolean =>
    year === stated?.year || (stated?.isOfTwo === true && !isOfTwo && year === stated.year + 1);
  return stated !== undefined && found.every(agrees) ? stated : null;
}
