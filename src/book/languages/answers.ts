import { LANGUAGES } from "./index.ts";
import { isQuestion, phraseOf } from "./words-of.ts";

const YES = new Set(["yes", ...LANGUAGES.flatMap(({ yes }) => yes.map(phraseOf))]);
const NO = new Set(["no", ...LANGUAGES.flatMap(({ no }) => no.map(phraseOf))]);

/** What a word answers, in any of the languages: true for yes, false for no, null for neither: a question is none. */
export function answered(word: string): boolean | null {
  if (isQuestion(word)) return null;
  const said = phraseOf(word);
  return YES.has(said) ? true : NO.has(said) ? false : null;
}
