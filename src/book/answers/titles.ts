import { isPositionName } from "../records/position-words.ts";
import type { Part } from "../records/records.ts";
import { COMPUTED, type Computed, EACH_COMPUTED } from "./computed.ts";

/** Headings of the columns we add, so that they are found again and never taken for the user's own. */

export const USES_TITLE = "Uses a month";
export const COUNTED_TITLE = "Counted to";
export const JUDGED_TITLE = "Judged on";

/** What stands after a part's name in the headings of columns that hold no computed answer. */
const REPLACED = "last replaced";
const DONE = "last done";
const EARLIEST = "earliest date";
const FINDING = "open finding";
const DOUBT = "date in doubt";
const LOGGED = "by your log";
const COUNTED_FROM = "counted from";

/** Heading of a computed column, such as "Ear cushion: next due". */
export function computedTitle(part: Part, column: Computed): string {
  return `${part.name}: ${COMPUTED[column].words}`;
}

/** Heading of the date column we add when the register has none. */
export function lastDoneTitle(part: Part): string {
  return `${part.name}: ${part.task ? DONE : REPLACED}`;
}

/** Heading of the earliest date of a part that has a column for each position. */
export function earliestTitle(part: Part): string {
  return `${part.name}: ${EARLIEST}`;
}

/** Heading of the finding column taken from the Job log. */
export function findingTitle(part: Part): string {
  return `${part.name}: ${FINDING}`;
}

/** Heading of the column that says why a date is not to be trusted. */
export function doubtTitle(part: Part): string {
  return `${part.name}: ${DOUBT}`;
}

/** Heading of the date that the programme's own log has beside the register's. */
export function loggedTitle(part: Part): string {
  return `${part.name}: ${LOGGED}`;
}

/** Heading of the date the interval is counted from where the register and an own log have one each. */
export function countedFromTitle(part: Part): string {
  return `${part.name}: ${COUNTED_FROM}`;
}

/** Tells a heading of ours that holds computed values, never the user's own data, in whatever case. */
export function ownTitles(parts: readonly Part[]): (heading: string) => boolean {
  const titles = parts.flatMap((part) => [
    ...EACH_COMPUTED.map(([column]) => computedTitle(part, column)),
    earliestTitle(part),
    findingTitle(part),
    doubtTitle(part),
    loggedTitle(part),
    countedFromTitle(part),
  ]);
  const own = new Set(
    [USES_TITLE, COUNTED_TITLE, JUDGED_TITLE, ...titles].map((title) => title.toLowerCase()),
  );
  return (heading) => {
    const title = heading.toLowerCase();
    return own.has(title) || own.has(ofWhole(title));
  };
}

/** "Ear cushion, left: state" without the position. */
function ofWhole(title: string): string {
  return title.replace(/, ([^,:]+)(?=: )/, (all, name: string) =>
    isPositionName(name) ? "" : all,
  );
}

/** Columns that are added only once there is something to say in them. */
const LATE_COMERS = [
  [
    `… ${LOGGED}`,
    "The last replacement or task in the log you keep yourself, beside the register's date.",
  ],
  [
    `… ${COUNTED_FROM}`,
    "The later of the register's date and your log's; the earlier where they are less than a month apart and may be one replacement.",
  ],
  [
    `… ${EARLIEST}`,
    "Of several dates of one part, such as left and right, the earliest; none while one is missing.",
  ],
  [
    `… ${DOUBT}`,
    "Why a date is not used: it contradicts the Job log or another column; correct it and run columns again.",
  ],
  [
    `… ${FINDING}`,
    "A finding in the Job log that ended the part's life and has not been followed by a replacement.",
  ],
] as const;

/** What each column of ours means, for Read me, in the order in which people meet them. */
export const COLUMNS_MEAN: readonly (readonly [string, string])[] = [
  [
    USES_TITLE,
    "Sessions a month from the latest three months with a count, up to the report date.",
  ],
  [
    COUNTED_TITLE,
    "Last day those counts cover; if it is too long ago, the shortest interval applies.",
  ],
  [
    `… ${REPLACED}`,
    "The date the interval starts from: the last complete replacement, entered as a date.",
  ],
  ...EACH_COMPUTED.flatMap(([column, { words, about }]) => [
    ...(column === "check" ? LATE_COMERS : []),
    [`… ${words}`, about] as const,
  ]),
  [
    JUDGED_TITLE,
    "The report date of Setup, as of which the states hold: a workbook left lying stays as it was.",
  ],
];
