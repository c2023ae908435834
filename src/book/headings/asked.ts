import { ticked } from "../languages/answers.ts";
import { isQuestion } from "../languages/words-of.ts";
import { asksIfGood } from "./if-good.ts";
import type { PartWords } from "./part-words.ts";
import { has } from "./work-tokens.ts";

const SURE = /^(?:sure|certain|are you sure|date sure|date certain|reliable)\b/iu;
/** Headings under which people answer whether all was done, in eight languages; "no" speaks against the row. */
const WHOLE =
  /(?<!\p{L})(?:complet[ao]?|complete|full set|whole set|all changed|komplett\p{L}*|vollst[äa]ndig\p{L}*|compleet|volledig|komplet\p{L}*|pe[łl]n[ya]|confirmed|verified|best[äa]tigt|confirm[ée]e?|confirmad[ao]|confermat[ao]|bevestigd|potwierdzon\p{L}*)(?!\p{L})/iu;
/** Headings under which a mark says that it was not. */
const PARTLY =
  /(?<!\p{L})(?:partial|partly|teilweise|partiel|parcial|parziale|gedeeltelijk|cz[ęe][śs]ciow)/iu;
const FAILED = /^(?:fail|failed|not ok|not passed|nok|n\.?i\.?o\.?)$/iu;

/** "Done?" alone. */
const DONE = /^(?:done|erledigt|fait|hecho|feito|fatto|gedaan|wykonano)\s*\??$/iu;

/** Whether a heading asks if a date is sure: what stands below is a remark. */
export function isSure(heading: string): boolean {
  return SURE.test(heading);
}

/** What answers below a heading say against their rows; null of a heading that asks nothing. */
export function asks(heading: string, { tokensOf }: PartWords): ((text: string) => boolean) | null {
  if (PARTLY.test(heading)) return isSo;
  if (SURE.test(heading) || WHOLE.test(heading) || DONE.test(heading)) return isNot;
  if (asksIfGood(heading)) return (text) => isNot(text) || FAILED.test(text);
  const tokens = tokensOf(heading);
  // "Replaced?", "Electrodes replaced" and "Were all leads replaced then?" say nothing else.
  const isOnly = tokens.every(({ known }) => known) || has(tokens, "whole");
  if (has(tokens, "no") || has(tokens, "later") || !isOnly) return null;
  if (has(tokens, "replaced")) return isNot;
  return tokens.length > 0 && tokens.every(({ senses }) => senses.includes("damaged"))
    ? isSo
    : null;
}

// Who answers with a question mark is not sure: that speaks against the row as well.
function isSo(text: string): boolean {
  return ticked(text) === true || isQuestion(text);
}

function isNot(text: string): boolean {
  return ticked(text) === false || isQuestion(text);
}
