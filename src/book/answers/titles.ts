import { isPositionName } from "../records/position-words.ts";
import type { Part } from "../records/records.ts";

/** Headings of the columns we add, so that they are found again and never taken for the user's own. */

export const USES_TITLE = "Uses a month";
export const COUNTED_TITLE = "Counted to";
export const JUDGED_TITLE = "Judged on";

/** What stands after a part's name in the headings of its computed columns, in the order they are added. */
export const COMPUTED_WORDS = {
  interval: "interval (months)",
  due: "next due",
  state: "state",
  check: "row check",
} as const;

/** A computed column of a part. */
export type Computed = keyof typeof COMPUTED_WORDS;

/** What stands after a part's name in the headings of columns that hold no computed answer. */
export const AFTER_PART = {
  replaced: "last replaced",
  done: "last done",
  earliest: "earliest date",
  finding: "open finding",
  doubt: "date in doubt",
  logged: "by your log",
  countedFrom: "counted from",
} as const;

/** Heading of a computed column, such as "Ear cushion: next due". */
export function computedTitle(part: Part, column: Computed): string {
  return `${part.name}: ${COMPUTED_WORDS[column]}`;
}

/** Heading of the date column we add when the register has none. */
export function lastDoneTitle(part: Part): string {
  return `${part.name}: ${AFTER_PART[part.task ? "done" : "replaced"]}`;
}

/** Heading of the earliest date of a part that has a column for each position. */
export function earliestTitle(part: Part): string {
  return `${part.name}: ${AFTER_PART.earliest}`;
}

/** Heading of the finding column taken from the Job log. */
export function findingTitle(part: Part): string {
  return `${part.name}: ${AFTER_PART.finding}`;
}

/** Heading of the column that says why a date is not to be trusted. */
export function doubtTitle(part: Part): string {
  return `${part.name}: ${AFTER_PART.doubt}`;
}

/** Heading of the date that the programme's own log has beside the register's. */
export function loggedTitle(part: Part): string {
  return `${part.name}: ${AFTER_PART.logged}`;
}

/** Heading of the date the interval is counted from where the register and an own log have one each. */
export function countedFromTitle(part: Part): string {
  return `${part.name}: ${AFTER_PART.countedFrom}`;
}

/** What stands after the name in each of our headings that hold no dates of the user's own. */
const AFTER_NAME = [
  ...Object.values(COMPUTED_WORDS),
  ...(["earliest", "finding", "doubt", "logged", "countedFrom"] as const).map(
    (key) => AFTER_PART[key],
  ),
];

/**
 * Tells, among the headings of a row, those of ours that hold computed values, never the user's own data, in
 * whatever case. Beside a row check, which no one else has, columns stay ours when their part was renamed or
 * its code was mistyped.
 */
export function ownTitles(
  parts: readonly Part[],
): (headings: readonly string[]) => (heading: string) => boolean {
  const names = parts.map(({ name }) => name);
  const known = titlesOf(names, [USES_TITLE, COUNTED_TITLE, JUDGED_TITLE]);
  return (headings) => {
    const checked = headings.flatMap((heading) => nameBefore(COMPUTED_WORDS.check, heading) ?? []);
    const renamed = titlesOf(checked, []);
    return (heading) => {
      const title = heading.toLowerCase();
      return [title, ofWhole(title)].some((one) => known.has(one) || renamed.has(one));
    };
  };
}

function titlesOf(names: readonly string[], others: readonly string[]): Set<string> {
  const titles = names.flatMap((name) => AFTER_NAME.map((words) => `${name}: ${words}`));
  return new Set([...others, ...titles].map((title) => title.toLowerCase()));
}

/** The part's name in a heading of ours; null in any other. */
function nameBefore(words: string, heading: string): string | null {
  const title = ofWhole(heading.toLowerCase());
  const end = `: ${words}`;
  return title.endsWith(end) ? title.slice(0, -end.length) : null;
}

/** "Ear cushion, left: state" without the position. */
function ofWhole(title: string): string {
  return title.replace(/, ([^,:]+)(?=: )/, (all, name: string) =>
    isPositionName(name) ? "" : all,
  );
}
