import { DICTIONARIES, type Dictionary } from "./dictionary.ts";

/** What a phrase reads as in the words of vocabulary.ts. */
const READS = new Map(DICTIONARIES.flatMap(({ readings }) => [...readings]));
const LONGEST = Math.max(...[...READS.keys()].map((phrase) => phrase.split(" ").length));
/** Letters of the shortest word that is looked for inside another. */
const SHORTEST_INSIDE = 4;

/** A word of a heading, put into the words of vocabulary.ts where it is another language's. */
export interface Translated {
  readonly word: string;
  /** Beside words of another language, one that no table knows: it may turn their meaning. */
  readonly strange: boolean;
}

type Known = (word: string) => boolean;

/**
 * Folded words with those of other languages put into the words of vocabulary.ts, the longest phrase
 * first. A word that English knows stays as it is, unless it is part of a longer phrase.
 */
export function translated(words: readonly string[], isKnown: Known): Translated[] {
  const found: (Said & { readonly word: string })[] = [];
  for (let at = 0; at < words.length;) {
    const said = saidAt(words, at, isKnown);
    found.push({ ...said, word: words[at] ?? "" });
    at += said.length;
  }
  const isForeign = found.some(({ says }) => says !== null);
  const theirs = spokenIn(found);
  return found.flatMap(({ says, word }) => {
    if (says !== null) return says.split(" ").map((one) => ({ word: one, strange: false }));
    // "in" says nothing beside Italian words, and something beside English ones; "da" is Portuguese for
    // "of the", which says nothing, and Italian for "by".
    if (theirs.some(({ empty }) => empty.has(word))) return [];
    return [{ word, strange: isForeign && !isKnown(word) }];
  });
}

/** What the words from a place on say in other languages, null for nothing, and in which. */
interface Said {
  readonly says: string | null;
  readonly length: number;
  readonly by: readonly Dictionary[];
}

/** The languages that know most of what was found in other languages. */
function spokenIn(found: readonly Said[]): Dictionary[] {
  const counts = DICTIONARIES.map((one) => found.filter(({ by }) => by.includes(one)).length);
  const most = Math.max(...counts);
  return most === 0 ? [] : DICTIONARIES.filter((_, at) => counts[at] === most);
}

function saidAt(words: readonly string[], at: number, isKnown: Known): Said {
  const word = words[at] ?? "";
  for (let length = Math.min(LONGEST, words.length - at); length > 1; length -= 1) {
    const phrase = words.slice(at, at + length).join(" ");
    const says = READS.get(phrase);
    if (says !== undefined) return { says, length, by: speakersOf(phrase) };
  }
  if (isKnown(word)) return { says: null, length: 1, by: [] };
  const says = READS.get(word);
  return says === undefined ? joined(word, isKnown) : { says, length: 1, by: speakersOf(word) };
}

function speakersOf(phrase: string): Dictionary[] {
  return DICTIONARIES.filter(({ readings }) => readings.has(phrase));
}

/** What a word made of several says: all of it must be words that are known, or none of it counts. */
function joined(word: string, isKnown: Known): Said {
  for (const one of DICTIONARIES) {
    const single = (part: string): string | null =>
      one.readings.get(part) ?? (isKnown(part) ? part : null);
    const says = partsOf(word, single, one.language.joins);
    if (says !== null) return { says, length: 1, by: [one] };
  }
  return { says: null, length: 1, by: [] };
}

function partsOf(
  word: string,
  single: (part: string) => string | null,
  joins: readonly string[],
): string | null {
  for (let at = SHORTEST_INSIDE; at <= word.length - SHORTEST_INSIDE; at += 1) {
    const tail = single(word.slice(at));
    if (tail === null) continue;
    for (const join of joins) {
      const stem = word.slice(0, at - join.length);
      if (stem.length < SHORTEST_INSIDE || !word.slice(0, at).endsWith(join)) continue;
      const head = single(stem) ?? partsOf(stem, single, joins);
      if (head !== null) return `${head} ${tail}`;
    }
  }
  return null;
}
