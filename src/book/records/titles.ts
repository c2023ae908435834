import type { Part } from "./records.ts";

/** Headings of the columns we add, so that they are found again and never taken for the user's own. */

export const USES_TITLE = "Uses a month";
export const COUNTED_TITLE = "Counted to";

/** The computed columns of one kind of part, in the order they are added. */
export const COMPUTED = ["interval", "due", "state", "check"] as const;
export type Computed = (typeof COMPUTED)[number];

const WORDS: Readonly<Record<Computed, string>> = {
  interval: "interval (months)",
  due: "next due",
  state: "state",
  check: "row check",
};

/** Heading of a computed column, such as "Ear cushion: next due". */
export function computedTitle(part: Part, column: Computed): string {
  return `${part.name}: ${WORDS[column]}`;
}

/** Heading of the date column we add when the register has none. */
export function lastDoneTitle(part: Part): string {
  return `${part.name}: last ${part.task ? "done" : "replaced"}`;
}

/** Heading of the finding column taken from the Job log. */
export function findingTitle(part: Part): string {
  return `${part.name}: open finding`;
}

/** Heading of the column that says why a date is not to be trusted. */
export function doubtTitle(part: Part): string {
  return `${part.name}: date in doubt`;
}

/** Every heading of ours that holds computed values, never the user's own data. */
export function ownTitles(parts: readonly Part[]): ReadonlySet<string> {
  const titles = parts.flatMap((part) => [
    ...COMPUTED.map((column) => computedTitle(part, column)),
    findingTitle(part),
    doubtTitle(part),
  ]);
  return new Set([USES_TITLE, COUNTED_TITLE, ...titles]);
}
