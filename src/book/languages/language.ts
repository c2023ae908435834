/** Which of two numbers in a written date is the day. */
export type DayOrder = "dmy" | "mdy";

/**
 * What a word in a log of people's own says of a part: it was replaced; it is new; it may be new, or is to be; which of its pieces;
 * it is damaged, was looked at, is good; nothing was done to it; the device has left; it is still to be done;
 * "not"; it was put off or left undone; it is of something that is no part of ours; or nothing at all.
 */
export type WorkSense =
  | "replaced"
  | "new"
  | "maybe"
  | "whole"
  | "left"
  | "right"
  | "partial"
  | "damaged"
  | "inspected"
  | "clean"
  | "nothing"
  | "withdrawn"
  | "later"
  | "no"
  | "off"
  | "other"
  | "lead"
  | "filler";

/** What a register written in a language calls things; words are compared without accents and case. */
export interface Language {
  readonly name: string;
  /** How its people write a day in numbers. */
  readonly dayOrder: DayOrder;
  /** Words and phrases by the words of vocabulary.ts that say the same. */
  readonly says: Readonly<Record<string, readonly string[]>>;
  /** Endings that the gender, number or case of a word exchanges, group by group. */
  readonly endings: readonly (readonly string[])[];
  /** What may stand between the words of a word made of several; empty where the language makes none. */
  readonly joins: readonly string[];
  /** Words that say nothing. */
  readonly empty: readonly string[];
  /** Names of the months, January first, with their usual short forms. */
  readonly months: readonly (readonly string[])[];
  /** Status words that plainly take a device out of the programme for good, and words that plainly leave it in. */
  readonly retired: readonly string[];
  readonly serving: readonly string[];
  readonly yes: readonly string[];
  readonly no: readonly string[];
  /** First words of a row that sums up others. */
  readonly totals: readonly string[];
  /** Words and phrases of a log, beside those of `says`. */
  readonly work: Readonly<Record<WorkSense, readonly string[]>>;
  /**
   * Headings of columns about a person, by what they look like: a single word under "records of persons" is
   * the whole heading, any other phrase stands somewhere in it.
   */
  readonly patients: Readonly<Record<string, readonly string[]>>;
}

/** Words in one string, for the tables. */
export function list(words: string): string[] {
  return words.split(",").map((word) => word.trim());
}
