import { isEnglish } from "../headings/words.ts";
import { LANGUAGES } from "../languages/index.ts";
import { translated } from "../languages/translate.ts";
import { phraseOf, wordsIn } from "../languages/words-of.ts";

const EMPTY = new Set(LANGUAGES.flatMap(({ empty }) => empty.map(phraseOf)));
/** What is ordinary in a list of suppliers or staff, and of a device. */
const NAMES = "names of persons";
/** People by themselves: "Patient" is a column of them, "Untersuchungen je Patient" is none. */
const ALONE = "records of persons";

const PHRASES = LANGUAGES.flatMap(({ patients }) =>
  Object.entries(patients).flatMap(([looksLike, phrases]) =>
    phrases.map((phrase) => {
      // "né le" would be "ne" alone without the article, and stop at a wing of the building.
      const words = telling(phrase);
      return { looksLike, words: words.length > 1 ? words : wordsIn(phrase) };
    }),
  ),
);

/** What a heading of another language looks like when it belongs to a patient, or null; `named`: names are ordinary. */
export function foreignPatientHeading(heading: string, named: boolean): string | null {
  const words = wordsIn(heading);
  const count = telling(heading).length;
  const hit = PHRASES.find(({ looksLike, words: phrase }) => {
    if (named && looksLike === NAMES) return false;
    const whole = looksLike === ALONE && phrase.length === 1;
    return phrase.every((word) => words.includes(word)) && (!whole || count === 1);
  });
  return hit?.looksLike ?? null;
}

/** The English words for a heading written in another language alone; none where English knows one. */
export function inEnglish(heading: string): string[] {
  const words = wordsIn(heading);
  if (words.some(isEnglish)) return [];
  return translated(words, isEnglish).flatMap(({ word, strange }) => (strange ? [] : [word]));
}

function telling(text: string): string[] {
  return wordsIn(text).filter((word) => !EMPTY.has(word));
}
