import { answered, isTick } from "../languages/answers.ts";
import type { WorkSense } from "../languages/language.ts";
import { isQuestion, phraseOf } from "../languages/words-of.ts";
import { isPositionName } from "../records/position-words.ts";
import { isYearless, readDateText } from "./dates.ts";
import { isWithdrawn } from "./remark-text.ts";
import { wordsOf } from "./words.ts";
import { type WorkToken, workTokens } from "./work-tokens.ts";

/** What is said in another column of a line and is of its work: that it was not done, or something else was. */
const OTHERWISE: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...(["later", "no", "damaged", "inspected", "nothing", "withdrawn"] as const),
]);
/** What leaves a line as it is under a heading that asks how it went. */
const WENT_WELL: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...(["replaced", "maybe", "whole", "clean", "filler"] as const),
]);
const OF_STATE = new Set(["status", "state", "result", "outcome", "done"]);

const tokensOf = (text: string): WorkToken[] => workTokens(text, () => false);
const hasSense = (tokens: readonly WorkToken[], among: ReadonlySet<WorkSense>): boolean =>
  tokens.some(({ senses }) => senses.some((sense) => among.has(sense)));

const has = (heading: string, among: ReadonlySet<string>): boolean =>
  wordsOf(heading, new Set()).some(({ text }) => among.has(text));

/** A sign other than a tick, or nought. */
const CROSSED = /^(?:[^\p{L}\p{N}]+|0)$/u;

/** Whether a heading asks how the work went: under it what nobody knows is doubt. */
export function asksHowItWent(heading: string): boolean {
  return has(heading, OF_STATE) || isQuestion(heading);
}

/** Whether a heading asks whether the work was done: under it a blank says that it was not. */
export function asksWhetherDone(heading: string): boolean {
  return has(heading, new Set(["done"]));
}

/** Headings under which people say that a fault is no more, in folded phrases of eight languages. */
const MENDED =
  /^(?:(?:date )?(?:fixed|repaired|resolved|closed|solved|mended|rectified|done)|behoben|repariert|gelost|geschlossen|erledigt|repare|resolu|clos|corrige|fait|reparado|resuelto|solucionado|cerrado|hecho|riparato|risolto|chiuso|fatto|consertado|resolvido|fechado|feito|opgelost|hersteld|gerepareerd|gesloten|gedaan|naprawion\w|usuniet\w|zamkniet\w|wykonano)(?: (?:on|date|am|le|el|il|em|op|dnia))?$/u;

/** Whether a heading asks whether, or when, a fault was repaired. */
export function saysMended(heading: string): boolean {
  return MENDED.test(phraseOf(heading));
}

/** Whether a text in another column of a line turns the words of its work, as "cancelled" does. */
export function turnsWork(text: string, heading: string): boolean {
  const answer = answered(text);
  if (answer !== null || isTick(text)) return answer === false;
  if (isQuestion(text)) return true;
  if (!/\p{L}/u.test(text)) return asksHowItWent(heading) && CROSSED.test(text);
  if (readDateText(text) !== null || isYearless(text)) return false;
  if (isWithdrawn(text) || isPositionName(text)) return true;
  const tokens = tokensOf(text);
  if (hasSense(tokens, OTHERWISE)) return true;
  return asksHowItWent(heading) && !tokens.every((token) => hasSense([token], WENT_WELL));
}
