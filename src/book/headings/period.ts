import { folded } from "../languages/words-of.ts";
import { addMonths, civilDayOrNull, type Day } from "../../core/day.ts";
import { monthNamed, readDateText } from "./dates.ts";

const YEAR = "(?<year>20\\d{2})";
const NAME = "(?<name>\\p{L}{3,})";
const QUARTER = "(?<quarter>[1-4])";
const GAP = "[\\s.\\-_/']*";

/** Each way to write a month, quarter or half of a year; two digits are a year only behind a month's name. */
const WAYS = [
  `${NAME}${GAP}${YEAR}`,
  `${YEAR}${GAP}${NAME}`,
  `${NAME}[\\s.\\-_/']+(?<short>\\d{2})`,
  `[qt]${QUARTER}${GAP}${YEAR}`,
  `${YEAR}${GAP}[qt]${QUARTER}`,
  `${QUARTER}\\.?\\s?(?:q|quartal|trimestre)${GAP}${YEAR}`,
  `h(?<half>[12])${GAP}${YEAR}`,
  `${YEAR}[\\-._/](?<month>\\d{1,2})`,
  `${YEAR}(?<month>0[1-9]|1[0-2])`,
  `(?<month>\\d{1,2})[\\-._/]${YEAR}`,
].map((way) => new RegExp(`(?<![\\p{L}\\d])${way}(?!\\d)`, "u"));

/** First day of what a way found; null where its word is no month or its number none. */
function firstOf(found: RegExpExecArray | null): Day | null {
  const { year, short, name, month, quarter, half } = found?.groups ?? {};
  const first =
    name === undefined
      ? Number(month ?? 3 * Number(quarter ?? 2 * Number(half) - 1) - 2)
      : (monthNamed(name) ?? 0);
  return found === null ? null : civilDayOrNull(Number(year ?? `20${short}`), first, 1);
}

/**
 * First day of the period that a sheet's name says it is of: a day, month, quarter, half or year. Null where it says
 * none, or where other numbers beside the year may say more than is understood.
 *
 * @example
 * periodOf("Register Mar 2026") // => civilDay(2026, 3, 1)
 */
export function periodOf(name: string): Day | null {
  const text = folded(name);
  const whole = /\d{1,4}[-./]\d{1,2}[-./]\d{1,4}/.exec(text)?.[0];
  const said = readDateText(whole ?? name, "heading");
  if (said?.kind === "day") return said.date;
  if (said?.kind === "month") return said.first;
  // Every way to write a day and a month in numbers puts the day first, or leaves it open.
  if (whole !== undefined) return said?.kind === "numbers" ? said.dmy : null;
  const [first] = WAYS.flatMap((way) => firstOf(way.exec(text)) ?? []);
  if (first !== undefined) return first;
  const numbers = text.match(/\d+/g) ?? [];
  const [only = ""] = numbers;
  return numbers.length === 1 && /^20\d{2}$/.test(only) ? civilDayOrNull(Number(only), 1, 1) : null;
}

const MONTHS_OF = [
  [/(?<!\p{L})[qt][1-4]|[1-4]\.?\s?(?:q|quartal|trimestre)/u, 3],
  [/(?<!\p{L})h[12]/u, 6],
] as const;

/**
 * Whether the period that a sheet's name says is over on a day; a name without one says nothing.
 *
 * @example
 * hasEnded("Register 2026", civilDay(2026, 12, 31)) // => false
 */
export function hasEnded(name: string, on: Day): boolean {
  const first = periodOf(name);
  if (first === null) return false;
  const text = folded(name);
  const isYear =
    text.match(/\d+/g)?.length === 1 && WAYS.every((way) => firstOf(way.exec(text)) === null);
  const months = isYear ? 12 : (MONTHS_OF.find(([way]) => way.test(text))?.[1] ?? 1);
  return addMonths(first, months) <= on;
}
