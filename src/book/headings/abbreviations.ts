import { READS } from "../languages/translate.ts";
import { remembering } from "../records/remembering.ts";
import { TURNING } from "./vocabulary.ts";

/** Letters from which on the beginning of a word may stand for it. */
const LEAST = 3;
/** What a date is believed for: "get." may be a word that no table knows, such as "getestet" beside "getauscht". */
const GRAVE = /replaced|calibration|retired|disposed/;
const LEAST_GRAVE = 5;
const TURNS = new Set(TURNING);

/** What a word that was cut short may be: a word of a table, and what it reads as in the words of vocabulary.ts. */
interface Completion {
  readonly word: string;
  readonly reads: string;
}

const inOtherLanguages = remembering((start: string): readonly Completion[] =>
  [...READS]
    .filter(([word]) => word.startsWith(start) && !word.includes(" "))
    .map(([word, reads]) => ({ word, reads })),
);

/**
 * The word that an abbreviation with a point stands for, such as "elektr." for "elektrode": the one that all known
 * words with this beginning say, or say more of, as "elektrodensatz" does; but one that makes a heading mean another
 * thing ("freq." may be a frequency) where there is any. Null where they say different things, or nothing begins so.
 *
 * @param english what an English word that is known reads as.
 */
export function spelledOut(
  start: string,
  english: Iterable<readonly [word: string, reads: string]>,
): Completion | null {
  if (start.length < LEAST || /\d/.test(start)) return null;
  const ours = [...english]
    .filter(([word]) => word.startsWith(start))
    .map(([word, reads]) => ({ word, reads }));
  const all = [...ours, ...inOtherLanguages(start)];
  const turning = all.find(({ reads }) => reads.split(" ").some((word) => TURNS.has(word)));
  if (turning !== undefined) return turning;
  const found = all.find(({ reads }) => all.every((other) => saysAll(other.reads, reads))) ?? null;
  return found !== null && GRAVE.test(found.reads) && start.length < LEAST_GRAVE ? null : found;
}

function saysAll(reads: string, words: string): boolean {
  const said = reads.split(" ");
  return words.split(" ").every((word) => said.includes(word));
}
