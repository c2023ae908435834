import { LANGUAGES } from "./index.ts";
import type { Language } from "./language.ts";

const NOT_WORD = /[^\p{L}\p{N}]+/gu;

/** A text as words are compared: small letters without accents. */
export function folded(text: string): string {
  return text
    .replaceAll("\u00a0", " ")
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

/** What a phrase reads as in the words of vocabulary.ts. */
const READS: ReadonlyMap<string, string> = new Map(
  LANGUAGES.flatMap(({ says }) =>
    Object.entries(says).flatMap(([reads, phrases]) =>
      phrases.map((phrase): [string, string] => [phraseOf(phrase), reads]),
    ),
  ),
);
/** Words that say nothing in one of the languages. */
const EMPTY = new Set(LANGUAGES.flatMap(({ empty }) => empty.map(phraseOf)));
const LONGEST = Math.max(...[...READS.keys()].map((phrase) => phrase.split(" ").length));

function phraseOf(text: string): string {
  return wordsIn(text).join(" ");
}

/**
 * Folded words with those of other languages put into the words of vocabulary.ts, the longest phrase
 * first. A word that English knows stays as it is, unless it is part of a longer phrase.
 */
export function translated(words: readonly string[], isKnown: (word: string) => boolean): string[] {
  const found: { readonly words: readonly string[]; readonly foreign: boolean }[] = [];
  for (let at = 0; at < words.length;) {
    const { says, length } = phraseAt(words, at, isKnown);
    found.push({ words: says?.split(" ") ?? [words[at] ?? ""], foreign: says !== null });
    at += length;
  }
  // "in" says nothing beside Italian words, and something beside English ones.
  const isForeign = found.some(({ foreign }) => foreign);
  return found.flatMap((one) =>
    isForeign && !one.foreign ? one.words.filter((word) => !EMPTY.has(word)) : one.words,
  );
}

function phraseAt(
  words: readonly string[],
  at: number,
  isKnown: (word: string) => boolean,
): { readonly says: string | null; readonly length: number } {
  const word = words[at] ?? "";
  for (let length = Math.min(LONGEST, words.length - at); length > 1; length -= 1) {
    const says = READS.get(words.slice(at, at + length).join(" "));
    if (says !== undefined) return { says, length };
  }
  return { says: isKnown(word) ? null : (READS.get(word) ?? null), length: 1 };
}

/** The language most of these texts are written in; null for English, or where nothing tells. */
export function languageOf(
  texts: readonly string[],
  isKnown: (word: string) => boolean,
): Language | null {
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

const OWN_WORDS = LANGUAGES.map((language) => ({
  language,
  words: new Set(
    [...Object.values(language.says).flat(), ...language.empty].flatMap((phrase) =>
      wordsIn(phrase),
    ),
  ),
}));
