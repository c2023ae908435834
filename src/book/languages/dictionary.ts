import { LANGUAGES } from "./index.ts";
import type { Language } from "./language.ts";
import { phraseOf, readingsOf, wordsIn } from "./words-of.ts";

/** A language as its words are looked up. */
export interface Dictionary {
  readonly language: Language;
  readonly readings: ReadonlyMap<string, string>;
  readonly empty: ReadonlySet<string>;
}

export const DICTIONARIES = LANGUAGES.map((language): Dictionary => ({
  language,
  readings: readingsOf(language),
  empty: new Set(language.empty.map(phraseOf)),
}));
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

const OWN_WORDS = DICTIONARIES.map(({ language, readings, empty }) => ({
  language,
  words: new Set([...readings.keys(), ...empty].flatMap((phrase) => wordsIn(phrase))),
}));
