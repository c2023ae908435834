import { civilDate, type Day } from "../../core/day.ts";
import { wordsIn } from "../languages/words-of.ts";
import { datesIn } from "./dates-in.ts";
import { monthNamed } from "./dates.ts";

/** Short names of months that are words of other things: "2 set", "take out", "3 days ago". */
const NO_MONTHS: ReadonlySet<string> = new Set(["set", "out", "ago", "mar"]);
/** What may stand between a day or "in" and its month. */
const OF = /^(?:of|de|del|d|st|nd|rd|th|er)$/u;
const IN = /^(?:in|im|en|em|nel|a|w|since|of|early|late|mid)$/u;
const LAST_OF_MONTH = 31;
const FIRST_YEAR = 2000;
/** Two numbers without a year, as in "3/6" and "28.09."; behind "1/2" of something else nobody knows. */
const TWO = /(?<![\p{L}\d/.,-])(\d{1,2})([/.])(\d{1,2})\.?(?![\d/.,%])/gu;

/** Whether a text names a day or a month, with its year or without, that is not this day or of its month. */
export function namesOtherDay(text: string, date: Day): boolean {
  // A month alone and a day without its year are no days there: they are read below.
  if (datesIn(text).some((one) => one.length > 0 && !one.includes(date))) return true;
  const { month, dayOfMonth } = civilDate(date);
  const isOther = [...text.matchAll(TWO)].some(([, first, , second]) => {
    const [a, b] = [Number(first), Number(second)];
    return !(a === dayOfMonth && b === month) && !(a === month && b === dayOfMonth);
  });
  return (
    isOther ||
    namedMonths(text).some((one) => {
      return one.month !== month || (one.day !== null && one.day !== dayOfMonth);
    })
  );
}

interface NamedMonth {
  readonly month: number;
  readonly day: number | null;
}

/** Months that are named beside a day, a year or "in". */
function namedMonths(text: string): NamedMonth[] {
  const words = wordsIn(text).map((word) => word.replace(/^(\d{1,2})(?:st|nd|rd|th|er)$/u, "$1"));
  return words.flatMap((word, at): NamedMonth[] => {
    const month = NO_MONTHS.has(word) ? undefined : monthNamed(word);
    if (month === undefined) return [];
    const [before = "", first = ""] = words
      .slice(0, at)
      .reverse()
      .filter((one, to) => to > 1 || !OF.test(one));
    const next = Number(words[at + 1]);
    const day =
      [Number(before || NaN), next].find((one) => one >= 1 && one <= LAST_OF_MONTH) ?? null;
    const isNamed = day !== null || next > FIRST_YEAR || IN.test(before) || IN.test(first);
    return isNamed ? [{ month, day }] : [];
  });
}
