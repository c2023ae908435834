import { folded } from "../languages/words-of.ts";
import { civilDayOrNull, type Day } from "../../core/day.ts";
import { monthNamed, readDateText } from "./dates.ts";

/** Years of this century as they stand in names; two digits only behind a month's name. */
const YEAR = "(20\\d{2})";
const BEFORE = "(?<![\\p{L}\\d])";
const BETWEEN = "[\\s.\\-_/']*";

/** Each way to write a period, with its year and its month. */
const WAYS: readonly (readonly [
  RegExp,
  (found: readonly string[]) => readonly [number, number],
])[] = [
  [of(`(\\p{L}{3,})${BETWEEN}${YEAR}`), ([name = "", year]) => [Number(year), named(name)]],
  [of(`${YEAR}${BETWEEN}(\\p{L}{3,})`), ([year, name = ""]) => [Number(year), named(name)]],
  [
    of("(\\p{L}{3,})[\\s.\\-_/']+(\\d{2})"),
    ([name = "", year]) => [2000 + Number(year), named(name)],
  ],
  [of(`[qt]([1-4])${BETWEEN}${YEAR}`), ([nth, year]) => [Number(year), 3 * Number(nth) - 2]],
  [of(`${YEAR}${BETWEEN}[qt]([1-4])`), ([year, nth]) => [Number(year), 3 * Number(nth) - 2]],
  [
    of(`([1-4])\\.?\\s?(?:q|quartal|trimestre)${BETWEEN}${YEAR}`),
    ([nth, year]) => [Number(year), 3 * Number(nth) - 2],
  ],
  [of(`h([12])${BETWEEN}${YEAR}`), ([nth, year]) => [Number(year), 6 * Number(nth) - 5]],
  [of(`${YEAR}[\\-._/](\\d{1,2})`), ([year, month]) => [Number(year), Number(month)]],
  [of(`${YEAR}(0[1-9]|1[0-2])`), ([year, month]) => [Number(year), Number(month)]],
  [of(`(\\d{1,2})[\\-._/]${YEAR}`), ([month, year]) => [Number(year), Number(month)]],
];

function of(pattern: string): RegExp {
  return new RegExp(`${BEFORE}${pattern}(?!\\d)`, "u");
}

function firstOf(
  found: RegExpExecArray | null,
  meant: (found: readonly string[]) => readonly [number, number],
): Day | null {
  if (found === null) return null;
  const [year, month] = meant(found.slice(1));
  return month === 0 ? null : civilDayOrNull(year, month, 1);
}

/** Number of a month by its name; 0 for any other word. */
function named(name: string): number {
  return monthNamed(name) ?? 0;
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
  const first = WAYS.flatMap(([way, meant]) => firstOf(way.exec(text), meant) ?? [])[0];
  if (first !== undefined) return first;
  const numbers = text.match(/\d+/g) ?? [];
  const [only = ""] = numbers;
  return numbers.length === 1 && /^20\d{2}$/.test(only) ? civilDayOrNull(Number(only), 1, 1) : null;
}
