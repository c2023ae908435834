import { LANGUAGES } from "../languages/index.ts";
import { READS, translated } from "../languages/translate.ts";
import { folded } from "../languages/words-of.ts";
import { spelledOut } from "./abbreviations.ts";
import { EMPTY, LIGHT, SAME, TURNING } from "./vocabulary.ts";

/** One word of a heading as the matcher sees it. */
export interface Word {
  readonly text: string;
  /** How much it says: 0 to 1. */
  readonly weight: number;
  /** Makes a heading mean something else, such as "next" or "cost". */
  readonly turning: boolean;
  /** A likely typing slip of a known word, or one cut short. */
  readonly slip: boolean;
  /** A word no table knows, cut short or beside words of another language: it may turn their meaning. */
  readonly strange: boolean;
}

const LIGHT_WEIGHT = 0.3;
/** What stands in brackets and only says how the column is written. */
const ANSWERS = LANGUAGES.flatMap(({ yes, no }) => [...yes, ...no]).join("|");
const FORMAT_HINT = new RegExp(
  `[([]\\s*(?:[djgt]{1,2}|m{1,4}|[yajr]{2,4}|[-/. ]|months?|days?|years?|optional|required|text|iso|date|yes|no|y/n|${ANSWERS}|[%$€£])+\\s*[)\\]]`,
  "gi",
);
const CAMEL = /([a-z])([A-Z])/g;
/** A word cut short, and not a letter or two such as the "F." of a date. */
const CUT = /^\p{L}{3,}$/u;
const WORD = /([\p{L}\p{N}]+)(\.?)/gu;
/** "Change by" gives the last day, where "changed by" asks who did it. */
const CHANGE_BY = /\b(?:change|replace|renew|swap)\s+by\b/;
const LAST_DAY =
  /^((?:change|replace|renew|swap|exchange|re-?calibrate)\b.*?)\s+(?:by|before|till)$/;
/** "Good until", "use by": so long a part may be used. */
const GOOD_UNTIL = /\b(?:good|usable|use|ok|safe)\s+(?:until|till|by|before)\b/;
const NUMBER_OF = /^(?:number|no|nr|#|count)\.?\s+of\b/;

const CANON: ReadonlyMap<string, string> = new Map(
  SAME.flatMap((group) => group.map((word): [string, string] => [word, group[0] ?? word])),
);
const LIGHT_WORDS = new Set(LIGHT);
const EMPTY_WORDS = new Set(EMPTY);
const TURNING_WORDS = new Set(TURNING);

/** Normalised words of a heading or phrase, without repeats; `vocabulary` are the words slips may mean. */
export function wordsOf(text: string, vocabulary: ReadonlySet<string> | null): Word[] {
  const written = split(text);
  const found =
    vocabulary === null
      ? written.map(({ word }) => understood(word, null))
      : wordsAmong(written, vocabulary);
  const words = new Map<string, Word>();
  for (const word of found) {
    if (word !== null && !words.has(word.text)) words.set(word.text, word);
  }
  return [...words.values()];
}

function wordsAmong(written: readonly Written[], vocabulary: ReadonlySet<string>): (Word | null)[] {
  const isKnown = (word: string): boolean => isEnglish(word) || vocabulary.has(word);
  const { words, short, open } = spelledOutIn(written, vocabulary, isKnown);
  return translated(words, isKnown).map(({ word: raw, strange }) => {
    // An English slip is not looked for beside words of another language; "per." is not "per".
    const isOpen = open.has(raw);
    const isOwn = strange || (isOpen && EMPTY_WORDS.has(raw));
    const word = isOwn ? plain(raw, false) : understood(raw, vocabulary);
    if (word === null) return null;
    const slip = word.slip || short.has(word.text);
    return { ...word, slip, strange: strange || (isOpen && !slip) };
  });
}

/** Words with those that were cut short spelled out: what these say, and which of them nobody knows. */
function spelledOutIn(
  written: readonly Written[],
  vocabulary: ReadonlySet<string>,
  isKnown: (word: string) => boolean,
): { words: string[]; short: ReadonlySet<string>; open: ReadonlySet<string> } {
  const [short, open] = [new Set<string>(), new Set<string>()];
  const words = written.map(({ word, isCut }) => {
    const isWhole = (isKnown(word) || READS.has(word)) && !EMPTY_WORDS.has(word);
    if (!isCut || isWhole) return word;
    const completed = spelledOut(word, englishWords(vocabulary));
    for (const one of completed?.reads.split(" ") ?? []) short.add(one);
    if (completed === null && CUT.test(word)) open.add(word);
    return completed?.word ?? word;
  });
  return { words, short, open };
}

function* englishWords(vocabulary: ReadonlySet<string>): Iterable<readonly [string, string]> {
  for (const word of vocabulary) yield [word, CANON.get(word) ?? word];
}

/** Whether the tables of English words know a word. */
export function isEnglish(word: string): boolean {
  return (
    CANON.has(word) || LIGHT_WORDS.has(word) || EMPTY_WORDS.has(word) || TURNING_WORDS.has(word)
  );
}

/** Every single word the groups of SAME know. */
export function knownWords(): string[] {
  return [...CANON.keys(), ...LIGHT, ...EMPTY, ...TURNING];
}

/** A word as it was written, and whether a point behind it says that it was cut short. */
interface Written {
  readonly word: string;
  readonly isCut: boolean;
}

function split(text: string): Written[] {
  const plainText = folded(
    text.replaceAll("\u00a0", " ").replace(FORMAT_HINT, " ").replace(CAMEL, "$1 $2"),
  )
    .replace(/\b(?:s\s*[/.]\s*n|n\s*\/\s*s)\b/g, "serial number")
    .replace(NUMBER_OF, "quantity ")
    .replace(CHANGE_BY, "replaced until")
    .replace(LAST_DAY, "$1 until")
    .replace(GOOD_UNTIL, "valid until")
    .replaceAll("#", " number ");
  return [...plainText.matchAll(WORD)].map(([, word = "", point]) => ({
    word,
    isCut: point === ".",
  }));
}

function understood(raw: string, vocabulary: ReadonlySet<string> | null): Word | null {
  if (EMPTY_WORDS.has(raw)) return null;
  const exact = CANON.get(raw);
  if (exact !== undefined) return plain(exact, false);
  if (vocabulary === null || vocabulary.has(raw)) return plain(raw, false);
  const single = raw.endsWith("s") ? raw.slice(0, -1) : raw;
  if (vocabulary.has(single)) return plain(CANON.get(single) ?? single, false);
  const slip = nearest(raw, vocabulary);
  return slip === null ? plain(raw, false) : plain(CANON.get(slip) ?? slip, true);
}

function plain(text: string, slip: boolean): Word {
  return {
    text,
    weight: LIGHT_WORDS.has(text) ? LIGHT_WEIGHT : 1,
    turning: TURNING_WORDS.has(text),
    slip,
    strange: false,
  };
}

function nearest(raw: string, vocabulary: ReadonlySet<string>): string | null {
  // Identifiers are no slips, and hardly anyone mistypes a word's first letter.
  if (raw.length < 4 || /\d/.test(raw)) return null;
  const allowed = raw.length < 8 ? 1 : 2;
  let best: string | null = null;
  let least = allowed + 1;
  for (const known of vocabulary) {
    if (known[0] !== raw[0] || known.length < 4 || Math.abs(known.length - raw.length) >= least)
      continue;
    const distance = slips(raw, known);
    // Four letters are too few to forgive anything but two of them exchanged.
    if (raw.length === 4 && !exchanged(raw, known)) continue;
    if (distance < least) {
      best = known;
      least = distance;
    }
  }
  return best;
}

function exchanged(one: string, other: string): boolean {
  return (
    other.length === one.length && one.split("").sort().join() === other.split("").sort().join()
  );
}

/** Edit distance with neighbours exchanged counted as one slip (optimal string alignment). */
export function slips(one: string, other: string): number {
  let before: number[] = [];
  let above = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (let row = 1; row <= one.length; row += 1) {
    const line = [row];
    for (let at = 1; at <= other.length; at += 1) {
      const same = one[row - 1] === other[at - 1];
      let cost = Math.min(
        (above[at] ?? 0) + 1,
        (line[at - 1] ?? 0) + 1,
        (above[at - 1] ?? 0) + (same ? 0 : 1),
      );
      const exchanged =
        row > 1 && at > 1 && one[row - 1] === other[at - 2] && one[row - 2] === other[at - 1];
      if (exchanged) cost = Math.min(cost, (before[at - 2] ?? 0) + 1);
      line.push(cost);
    }
    before = above;
    above = line;
  }
  return above[other.length] ?? 0;
}
