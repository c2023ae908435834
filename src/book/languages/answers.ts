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

/** Marks and the values of boxes that say that it is so, and that it is not. */
const TICKED = /^(?:[xy1✓✔☑!]+|true|wahr|vrai)$/iu;
const UNTICKED = /^(?:[n0✗✘☐□×]|false|falsch|faux)$/iu;

/** What a cell below a question answers: a word, a letter, a mark or a box. */
export function ticked(text: string): boolean | null {
  return TICKED.test(text) ? true : UNTICKED.test(text) ? false : answered(text);
}

/** Whether a cell is a box that is ticked. */
export function isTick(text: string): boolean {
  return /^[xv✓✔√☑]$/iu.test(text.trim());
}
