import { type Day, isoText } from "../../../core/day.ts";
import { type ColumnOrder, dayMeant } from "../../headings/day-order.ts";
import { type DateText, fromBuddhistEra } from "../../headings/dates.ts";
import type { Language } from "../../languages/language.ts";
import type { Problem } from "../../records/records.ts";
import { CELL_WORDS } from "./cell-words.ts";
import { firstWords } from "./first-words.ts";
import { DATE_FAULTS, type Words } from "./date-faults.ts";

/** A text as it reads, beside the others of its column and in its register's language. */
interface Seen {
  readonly text: DateText | null;
  readonly order: ColumnOrder;
  readonly language: Language | null;
  /** The day it is by the language alone, where no other would be earlier. */
  readonly usual: Day | null;
  readonly startsInterval: boolean;
}

/** What a comment says against a date, or beside what is wrong with it already. */
function commented(said: string, isAgainst: boolean, before: Problem | undefined): Words {
  const { cause = "", fix = "", mend } = before === undefined ? {} : worded(before);
  const text = firstWords(said);
  if (isAgainst) {
    return [
      `The comment says ${text}. ${cause}`.trim(),
      "Type the right date, and clear the comment.",
    ];
  }
  const what = mend === undefined ? "It" : "It is not certain, since it";
  return [`${cause} ${what} has a comment: ${text}.`, fix];
}

const WORDS = {
  ...DATE_FAULTS,
  ...CELL_WORDS,
  commented,
  textRead: (seen: Seen) => ["", fixOf(seen)] as const,
};
export type DateWords = typeof WORDS;

/** A problem with its words, where they were still to come; any other as it is. */
export function worded(problem: Problem): Problem {
  const { said, ...kept } = problem;
  if (said === undefined) return problem;
  const [name, ...about] = said;
  const say = WORDS[name as keyof DateWords] as (...all: typeof about) => readonly [string, string];
  const [cause, fix] = say(...about);
  const causes = [cause, kept.cause].filter((text) => text !== "").join(" ");
  return { ...kept, cause: causes, fix: kept.fix === "" ? fix : kept.fix };
}

/** What to type for a day that a text means; a year of another era is asked about. */
function typeIt(meant: Day): string {
  const ofEra = fromBuddhistEra(meant);
  return ofEra === null
    ? `Type ${isoText(meant)} as a date.`
    : `If its year is one of the Buddhist era it is ${isoText(ofEra)}, else ${isoText(meant)}: type the right one as a date.`;
}

function fixOf(seen: Seen): string {
  const { text, order, language, usual, startsInterval } = seen;
  if (text === null) return "Type it as a date (year-month-day), or clear the cell.";
  const meant = dayMeant(text, order.order);
  if (meant !== null) return typeIt(meant);
  if (text.kind === "month") return monthFix(text, startsInterval);
  if (text.kind === "day" || (order.order !== null && text.ymd === null)) {
    return "In this column's order of day and month it is not a valid date: type it as a date (year-month-day).";
  }
  if (usual !== null && language !== null) {
    return `In ${language.name} it is ${isoText(usual)}, the earlier of the two days it may be: type it as a date.`;
  }
  return numbersFix(text, seen);
}

function monthFix(
  { first, last }: Extract<DateText, { readonly kind: "month" }>,
  startsInterval: boolean,
): string {
  return startsInterval
    ? `Type the day as well; where nobody knows it ${isoText(first)}, the first of the month: a later day would lengthen the interval.`
    : `Type a day as well: ${isoText(first)} for the first of the month, ${isoText(last)} for the last.`;
}

function numbersFix(
  text: Extract<DateText, { readonly kind: "numbers" }>,
  { order: { mixed }, language }: Seen,
): string {
  const { dmy, mdy, ymd } = text;
  const days = [dmy, mdy, ymd].filter((date) => date !== null);
  const first = Math.min(...days);
  if (ymd !== null) {
    const others = days.filter((date) => date !== first).map(isoText);
    const also = [...new Set(others)].map((date) => `, or ${date}`).join("");
    return `It may be ${isoText(first as Day)}${also}: type the right one as a date.`;
  }
  const either = [...new Set(days)].map(isoText).join(" or ");
  if (!mixed && language !== null) {
    const usual = text[language.dayOrder];
    // How its people write a day is a proposal: a copy of an English register may be among them.
    const other = language.dayOrder === "dmy" ? mdy : dmy;
    if (usual !== null) {
      const also = other === null ? "" : `, and it may be ${isoText(other)}`;
      return `In ${language.name} it is ${isoText(usual)}${also}: state in Setup whether the day or the month comes first, or type it as a date.`;
    }
  }
  return mixed
    ? `The column mixes two orders of day and month: type ${either} as a date after checking.`
    : `It may be ${either}: state in Setup whether the day or the month comes first, then type it as a date.`;
}
