import { LANGUAGES } from "./index.ts";
import type { Language } from "./language.ts";

const NOT_WORD = /[^\p{L}\p{N}]+/gu;
/** "d'électrodes", "l'appareil", "dell'apparecchio": an article that has lost its vowel. */
const ELIDED = /(?<!\p{L})(?:d|l|dell|all|nell|sull)['’]/giu;

/** A text as words are compared: small letters without accents. */
export function folded(text: string): string {
  return text
    .replaceAll("\u00a0", " ")
    .replaceAll(ELIDED, " ")
    .replaceAll(/n\s*[°º]/gi, "no ")
    .toLowerCase()
    .replaceAll("ß", "ss")
    .replaceAll("ł", "l")
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "");
}

/** The words of a text, folded. */
export function wordsIn(text: string): string[] {
  return folded(text)
    .split(NOT_WORD)
    .filter((word) => word !== "");
}

/** A phrase in every gender, number and case of its first and of its last word. */
export function formsOf(phrase: string, language: Language): string[] {
  const [first = "", ...rest] = phrase.split(" ");
  const last = rest.pop();
  if (last === undefined) return formsOfWord(first, language);
  const between = rest.map((word) => ` ${word}`).join("");
  return [
    ...formsOfWord(last, language).map((form) => `${first}${between} ${form}`),
    ...formsOfWord(first, language).map((form) => `${form}${between} ${last}`),
  ];
}

function formsOfWord(word: string, { endings }: Language): string[] {
  for (const group of endings) {
    const ending = group.find((one) => word.endsWith(one));
    if (ending === undefined) continue;
    return group.map((other) => word.slice(0, word.length - ending.length) + other);
  }
  return [word];
}

/** Every phrase of a language, folded, with what it reads as; one written in the table goes before a form. */
export function readingsOf(language: Language): ReadonlyMap<string, string> {
  const written = Object.entries(language.says).flatMap(([reads, phrases]) =>
    phrases.map((phrase) => ({ phrase, reads })),
  );
  const readings = new Map(written.map(({ phrase, reads }) => [phraseOf(phrase), reads]));
  for (const { phrase, reads } of written) {
    for (const form of formsOf(phrase, language).map(phraseOf)) {
      if (!readings.has(form)) readings.set(form, reads);
    }
  }
  return readings;
}

/** A language as its words are looked up. */
interface Dictionary {
  readonly language: Language;
  readonly readings: ReadonlyMap<string, string>;
  readonly empty: ReadonlySet<string>;
}

const DICTIONARIES = LANGUAGES.map((language): Dictionary => ({
  language,
  readings: readingsOf(language),
  empty: new Set(language.empty.map(phraseOf)),
}));
/** What a phrase reads as in the words of vocabulary.ts. */
const READS = new Map(DICTIONARIES.flatMap(({ readings }) => [...readings]));
const LONGEST = Math.max(...[...READS.keys()].map((phrase) => phrase.split(" ").length));
/** Letters of the shortest word that is looked for inside another. */
const SHORTEST_INSIDE = 4;

function phraseOf(text: string): string {
  return wordsIn(text).join(" ");
}

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

/** The language most of these texts are written in; null for English, or where nothing tells. */
export function languageOf(texts: readonly string[], isKnown: Known): Language | null {
  let best: { readonly language: Language; readonly score: number } | null = null;
  const foreign = texts.flatMap((text) => wordsIn(text)).filter((word) => !isKnown(word));
  for (const { language, words } of OWN_WORDS) {
    const score = foreign.filter((word) => words.has(word)).length;
    if (score >= ENOUGH && score > (best?.score ?? 0)) best = { language, score };
  }
  return best?.language ?? null;
}

/** Words from which on a sheet is taken to be written in a language. */
const ENOUGH = 2;

const OWN_WORDS = DICTIONARIES.map(({ language, readings, empty }) => ({
  language,
  words: new Set([...readings.keys(), ...empty].flatMap((phrase) => wordsIn(phrase))),
}));
