import { folded } from "../languages/words-of.ts";
import { civilDayOrNull, type Day } from "../../core/day.ts";
import { monthNamed, readDateText } from "./dates.ts";

/** A year of this century, by itself in a name. */
const YEAR = /(?<!\d)(20\d{2})(?!\d)/;
const NAME_YEAR = /(\p{L}{3,})[\s.\-_/']*(20\d{2})(?!\d)/u;
const YEAR_MONTH = /(?<!\d)(20\d{2})[\s.\-_/]?(0[1-9]|1[0-2])(?!\d)/;
const QUARTER = /(?<![\p{L}\d])[qt]([1-4])(?!\d)/u;

/**
 * First day of the period that a sheet's name says it is of: a month, a quarter or a year. Null where it says none.
 *
 * @example
 * periodOf("Register Mar 2026") // => civilDay(2026, 3, 1)
 */
export function periodOf(name: string): Day | null {
  const said = readDateText(name, "heading");
  if (said?.kind === "month") return said.first;
  if (said?.kind === "day") return said.date;
  const text = folded(name);
  const named = NAME_YEAR.exec(text);
  const month = named === null ? undefined : monthNamed(named[1] ?? "");
  if (month !== undefined) return civilDayOrNull(Number(named?.[2]), month, 1);
  const digits = YEAR_MONTH.exec(text);
  if (digits) return civilDayOrNull(Number(digits[1]), Number(digits[2]), 1);
  const year = YEAR.exec(text)?.[1];
  if (year === undefined) return null;
  const quarter = Number(QUARTER.exec(text)?.[1] ?? 1);
  return civilDayOrNull(Number(year), 3 * quarter - 2, 1);
}
