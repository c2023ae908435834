import { LANGUAGES } from "../languages/index.ts";
import type { Device } from "./records.ts";
import { RETIREMENT_DOUBTS } from "./problem-kinds.ts";

/** Days before the report date beyond which a retirement date is none. */
export const LONGEST_GONE = 18263;

/** Status words that take a device out of the programme, whatever their case. */
export const RETIRED_WORDS = [
  "retired",
  "disposed",
  "disposed of",
  "scrapped",
  "condemned",
  "decommissioned",
  "written off",
] as const;

/**
 * The same in every language, as they are written and without their accents: a formula compares letters as
 * they stand. Words that may also mean "away for a while" or "written down to nothing" are not among them.
 * Books keep the list they were given under its name: a change of it needs another name in names.ts.
 */
export const ALL_RETIRED_WORDS: readonly string[] = [
  ...new Set([
    ...RETIRED_WORDS,
    ...LANGUAGES.flatMap(({ retired }) => retired).flatMap((word) => [word, unaccented(word)]),
  ]),
];

function unaccented(word: string): string {
  return word.replaceAll("ł", "l").replaceAll("ß", "ss").normalize("NFD").replaceAll(/\p{M}/gu, "");
}

const SAYS_RETIRED = new Set(ALL_RETIRED_WORDS);

/** Whether a cell says that a device has left; ordinary spaces do not matter, as in the formulas. */
export function saysRetired(cell: unknown): boolean {
  if (typeof cell !== "string") return false;
  const word = cell.replaceAll(/ +/g, " ").replaceAll(/^ | $/g, "").toLowerCase();
  return SAYS_RETIRED.has(word);
}

/** Whether a date of retirement takes a device out on the report date; a 0 or a 1 is no date. */
export function hasLeftBy(date: number, reportDate: number): boolean {
  return Math.floor(date) <= reportDate && date >= reportDate - LONGEST_GONE;
}

/** Whether somebody has retired a device, with or without doubt: then its use is counted for no other one's good. */
export function mayHaveLeft({ retired, doubt }: Pick<Device, "retired" | "doubt">): boolean {
  return retired || RETIREMENT_DOUBTS.some((one) => one === doubt);
}
