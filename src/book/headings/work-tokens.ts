import { endsLife } from "../../core/due.ts";
import type { WorkSense } from "../languages/language.ts";
import { READS, translated } from "../languages/translate.ts";
import { phraseOf } from "../languages/words-of.ts";
import { withHarm } from "./harm-words.ts";
import { isEnglish, wordsOf } from "./words.ts";
import { LONGEST_WORK, VOCABULARY_SENSES, WORK } from "./work-senses.ts";

/** A word of a log: what it says, the word of a part's name it is, or a word nobody knows. */
export interface WorkToken {
  readonly senses: readonly WorkSense[];
  /** Words of parts' names, in the words of vocabulary.ts. */
  readonly names: readonly string[];
  /** It names one piece, where the part is a set of several. */
  readonly single: boolean;
  readonly known: boolean;
}

const UNKNOWN: WorkToken = { senses: [], names: [], single: false, known: false };
const PHRASE = Math.max(LONGEST_WORK, 4);

/** The words of a line, the longest phrase first; `isName` knows the words of the parts' names. */
export function workTokens(text: string, isName: (word: string) => boolean): WorkToken[] {
  const words = withHarm(phraseOf(text)).match(/\S+/gu) ?? [];
  const tokens: WorkToken[] = [];
  for (let at = 0; at < words.length;) {
    const { token, length } = tokenAt(words, at, isName);
    tokens.push(token);
    at += length;
  }
  return withoutDenied(tokens);
}

function tokenAt(
  words: readonly string[],
  at: number,
  isName: (word: string) => boolean,
): { readonly token: WorkToken; readonly length: number } {
  for (let length = Math.min(PHRASE, words.length - at); length > 0; length -= 1) {
    const phrase = words.slice(at, at + length).join(" ");
    const sense = WORK.get(phrase);
    if (sense !== undefined) {
      const names = isName(phrase) ? [phrase] : [];
      // What was put off was not done either.
      const senses = sense === "off" ? (["no", sense] as const) : [sense];
      return { token: { senses, names, single: false, known: true }, length };
    }
    const says = length === 1 ? saidBy(phrase, isName) : READS.get(phrase);
    const token =
      says === undefined || says === null ? null : vocabularyToken(phrase, says, isName);
    if (token !== null) return { token, length };
  }
  // A stem that ends a part's life does so in any word.
  const token = endsLife(words[at] ?? "")
    ? { ...UNKNOWN, senses: ["damaged" as const], known: true }
    : UNKNOWN;
  return { token, length: 1 };
}

/** One word in the words of vocabulary.ts; null where nobody knows it. */
function saidBy(word: string, isName: (word: string) => boolean): string | null {
  const [own] = wordsOf(word, null);
  if (own !== undefined && (isName(own.text) || VOCABULARY_SENSES.has(own.text))) return own.text;
  const isKnown = (one: string): boolean => isEnglish(one) || isName(one);
  const foreign = translated([word], isKnown);
  const says = foreign.map((one) => one.word).join(" ");
  return says === word ? null : says;
}

/** A phrase in the words of vocabulary.ts; null where one of them is of neither a part nor its work. */
function vocabularyToken(
  phrase: string,
  says: string,
  isName: (word: string) => boolean,
): WorkToken | null {
  const words = says.split(" ");
  if (!words.every((word) => isName(word) || VOCABULARY_SENSES.has(word))) return null;
  const names = words.filter(isName);
  const senses = words.flatMap((word) => VOCABULARY_SENSES.get(word) ?? []);
  const single = names.length > 0 && isSingular(phrase, says) && !senses.includes("whole");
  return { senses, names, single, known: true };
}

/** Endings of the plural in the languages we read; what ends otherwise is taken for one piece. */
function isSingular(phrase: string, says: string): boolean {
  return phrase === says || !/[sniy]$/.test(phrase);
}

/** "No damage" says that a part is good, and "never missed" nothing against it; any other "not" is left to stand. */
function withoutDenied(tokens: readonly WorkToken[]): WorkToken[] {
  const kept: WorkToken[] = [];
  for (const token of tokens) {
    const before = kept.at(-1);
    const isDenied = token.senses[0] === "damaged" || token.senses.includes("off");
    if (before?.senses[0] === "no" && isDenied && token.names.length === 0) {
      kept[kept.length - 1] = { ...token, senses: ["clean"] };
    } else kept.push(token);
  }
  return kept;
}

/** Whether one of the words says so. */
export function has(tokens: readonly WorkToken[], sense: WorkSense): boolean {
  return tokens.some(({ senses }) => senses.includes(sense));
}
