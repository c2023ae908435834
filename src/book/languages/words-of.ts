import type { Language } from "./language.ts";

const NOT_WORD = /[^\p{L}\p{N}]+/gu;
/** "d'électrodes", "l'appareil", "dell'apparecchio": an article that has lost its vowel. */
const ELIDED = /(?<!\p{L})(?:d|l|dell|all|nell|sull)['’]/giu;

/** Plain letters, digits and signs, in which nothing is left out or replaced. */
const PLAIN = /^[ -&(-~]*$/;

/** A text as words are compared: small letters without accents. */
export function folded(text: string): string {
  if (PLAIN.test(text)) return text.toLowerCase();
  return text
    .replaceAll("\u00a0", " ")
    .replaceAll(ELIDED, " ")
    .replaceAll(/n\.?\s*[°º]/gi, "no ")
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

/** Phrases with their forms, those that are written last, so that they hold where both are put into a table. */
export function withForms(phrases: readonly string[], language: Language): string[] {
  return [...phrases.flatMap((phrase) => formsOf(phrase, language)), ...phrases].map(phraseOf);
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

/** A phrase as the tables compare it. */
export function phraseOf(text: string): string {
  return wordsIn(text).join(" ");
}

/** Whether a text asks, in any of the languages. */
export function isQuestion(text: string): boolean {
  return /[?¿？]/u.test(text);
}

/** A wording of a log as its spellings are compared: a question is another one than what it asks about. */
export function wordingKey(text: string): string {
  return `${phraseOf(text)}${isQuestion(text) ? " ?" : ""}`.trim();
}
