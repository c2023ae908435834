import { LANGUAGES } from "../languages/index.ts";
import { list } from "../languages/language.ts";
import { phraseOf, withForms } from "../languages/words-of.ts";

/** English words that say of a part that it was looked at. */
export const INSPECTED = list(
  "inspected, checked, inspection, examined, visual check, visual inspection, weekly check, routine check, weekly inspection, check",
);

const WORDS = new Set([
  ...INSPECTED.map(phraseOf),
  ...LANGUAGES.flatMap((language) => withForms(language.work.inspected, language)),
]);

/** Whether a job's name says an inspection in other words than ours; one more lengthens nothing. */
export function saysInspected(text: string): boolean {
  return WORDS.has(phraseOf(text));
}
