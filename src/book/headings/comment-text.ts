import type { Day } from "../../core/day.ts";
import { isQuestion, phraseOf } from "../languages/words-of.ts";
import { DEFAULT_PARTS } from "../records/parts.ts";
import { datesIn } from "./dates-in.ts";
import { partWords } from "./part-words.ts";
import { isWithdrawn, speaksAgainst } from "./remark-text.ts";
import { isOld, isOnly, isPartly } from "./withdrawing-words.ts";
import { has, type WorkToken } from "./work-tokens.ts";

/** What the next one is for is the ordinary plan. */
const NEXT =
  /(?:^| )(?:next|prochaine?|nächste[rsn]?|próxim[oa]|prossim[oa]|volgende|następn[ay])(?: |$)/iu;
/** Numbers behind these are no days: "lot 12/25", "exp 10/2028", "room 3/4". */
export const NUMBERED =
  /\b(?:lot|batch|exp(?:iry|ires?|\.)?|serial|s\/n|ref|room|ward|invoice|order|phone|tel|no|nr)\b\.?:?\s*[\p{L}\d/.-]*\d[\d/.-]*/giu;

/** Words of the usual parts: what of another part stands in a comment is not said of its date. */
const WORDS = partWords(DEFAULT_PARTS);
export const { tokensOf } = WORDS;

/** Whether a comment to a date speaks against it: as a remark does, or by a question, a delay or another day. */
export function speaksAgainstDate(text: string, date: Day | null): boolean {
  const tokens = tokensOf(text);
  if (
    speaksAgainst(text, WORDS) ||
    isWithdrawn(text) ||
    isQuestion(text) ||
    GUESSED.test(phraseOf(text))
  )
    return true;
  if (isOtherWork(phraseOf(text), tokens, isOld)) return true;
  if (has(tokens, "later") && !NEXT.test(text)) return true;
  // Without a number for a day "no" is said of what was done.
  const days = text.replace(NUMBERED, " ");
  if (has(tokensOf(days), "no") && SAYS_DONE.test(phraseOf(days))) return true;
  return datesIn(days).some((one) => date === null || !one.includes(date));
}

/** Whether a comment to a number withdraws it, asks, or calls it a guess. */
export function speaksAgainstCount(text: string): boolean {
  return isWithdrawn(text) || isQuestion(text) || GUESSED.test(phraseOf(text));
}

const GUESSED =
  /(?:^| )(?:guess(?:ed)?|estimated?|approx|approximately|about|maybe|perhaps)(?: |$)/u;
const SAYS_DONE = /(?:^| )(?:done|finished|confirmed|happened|true|right|correct)(?: |$)/u;

/** Whether a comment tells of less than a new part: one piece of it, one that is not new, or a look at it alone. */
export function isOtherWork(
  phrase: string,
  tokens: readonly WorkToken[],
  isNone: (phrase: string) => boolean,
): boolean {
  if (has(tokens, "off")) return true;
  const isDone = has(tokens, "replaced") || has(tokens, "new");
  if (isPartly(phrase)) return true;
  if (isDone) return false;
  if (isNone(phrase) || isOnly(phrase)) return true;
  if (!tokens.every(({ known }) => known)) return false;
  if (has(tokens, "left") !== has(tokens, "right")) return true;
  // "Checked OK" is no other work, "only clean" is.
  if (has(tokens, "clean")) return has(tokens, "partial");
  return has(tokens, "inspected") || has(tokens, "nothing");
}
