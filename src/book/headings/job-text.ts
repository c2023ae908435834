import { phraseOf } from "../languages/words-of.ts";
import { isOtherWork, tokensOf } from "./comment-text.ts";
import { ASKING, isUnchanged } from "./remark-text.ts";
import { isAnothers, isTakenBack, TO_REPLACE, UNSURE } from "./withdrawing-words.ts";
import { has } from "./work-tokens.ts";

const PLANS: ReadonlySet<string | undefined> = new Set(["later", "filler", "maybe"]);

/**
 * Whether a text takes back the replacement beside which it stands, or says that it was less than one. Why a part was
 * replaced does neither, nor what was ordered besides.
 */
export function takesBack(text: string): boolean {
  const tokens = tokensOf(text);
  const phrase = phraseOf(text);
  if (isTakenBack(phrase) || UNSURE.test(phrase)) return true;
  if (isUnchanged(tokens) || ASKING.test(text)) return true;
  // That it was due is why it was replaced.
  const isPlan = has(tokens, "later") && tokens.every(({ senses }) => PLANS.has(senses[0]));
  if (isPlan && !phrase.endsWith("due")) return true;
  return has(tokens, "damaged") ? isAnothers(phrase) : isOtherWork(phrase, tokens, isAnothers);
}

const NOT_THERE = /(?:^| )(?:lost|(?:at|in) repair)(?: |$)/u;

/** Whether a text says that a part is yet to be replaced, or not there. */
export function mustGo(text: string): boolean {
  const phrase = phraseOf(text);
  return TO_REPLACE.test(phrase) || NOT_THERE.test(phrase);
}
