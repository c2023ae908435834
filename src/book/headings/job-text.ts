import type { Day } from "../../core/day.ts";
import type { WorkSense } from "../languages/language.ts";
import { phraseOf } from "../languages/words-of.ts";
import { remembering } from "../records/remembering.ts";
import { isOtherWork, NUMBERED, tokensOf } from "./comment-text.ts";
import { statementsOf } from "./damage-left.ts";
import { namesOtherDay } from "./job-days.ts";
import { isNotMade, isOfOtherDay, isOldAgain, isPlain, isVoid } from "./job-words.ts";
import { ASKING, isUnchanged } from "./remark-text.ts";
import {
  isAnothers,
  isTakenBack,
  MISSING,
  OF_PAPER,
  TO_REPLACE,
  UNSURE,
} from "./withdrawing-words.ts";
import { has, type WorkToken } from "./work-tokens.ts";

const PLANS: ReadonlySet<string | undefined> = new Set(["later", "filler", "maybe"]);
/** That it was due, or done as it should be, is why it was replaced. */
const ON_TIME = /(?:^| )(?:due|scheduled?)$|^(?:as|per) (?:planned|plan)(?: |$)/u;

/**
 * Whether a text takes back the replacement beside which it stands, or says that it was less than one, or on another day
 * than `date`. Why a part was replaced does neither, nor what was ordered besides.
 */
export function takesBack(text: string, date: Day | null = null): boolean {
  const said = withoutKept(text);
  return said !== "" && (isTaking(said) || isOtherDay(said, date));
}

/** The same for a whole log, in which notes repeat themselves. */
export function noteReader(): (text: string, date: Day | null) => boolean {
  const isHeard = remembering(isTaking);
  return (text, date) => {
    const said = withoutKept(text);
    return said !== "" && (isHeard(said) || isOtherDay(said, date));
  };
}

function withoutKept(text: string): string {
  return text.replaceAll(KEPT, " ").trim();
}

function isTaking(said: string): boolean {
  if (ASKING.test(said) || [said, ...statementsOf(said)].some(isNone)) return true;
  const tokens = tokensOf(said);
  const phrase = phraseOf(said);
  return isReason(tokens) ? isAnothers(phrase) : isOtherWork(phrase, tokens, isAnothers);
}

/** What `log` notes of the date that it replaces. */
const KEPT = /done before on \d{4}-\d{2}-\d{2}/giu;

function isNone(text: string): boolean {
  const tokens = tokensOf(text);
  const phrase = phraseOf(text);
  if (isTakenBack(phrase) || isUnchanged(tokens)) return true;
  // The lot may not be known, and a label be missing.
  if (OF_PAPER.test(phrase) && !OF_DAY.test(phrase)) return false;
  if (UNSURE.test(phrase) || isVoid(phrase)) return true;
  const isOver = isReason(tokens) || has(tokens, "replaced") || has(tokens, "maybe");
  if (isOldAgain(phrase, { isOver, isNew: has(tokens, "new") })) return true;
  if (MISSING.test(phrase) || lacksPiece(tokens)) return true;
  const isPlan = has(tokens, "later") && tokens.every(({ senses }) => PLANS.has(senses[0]));
  return isPlan && !ON_TIME.test(phrase);
}

function isReason(tokens: readonly WorkToken[]): boolean {
  return has(tokens, "damaged") || has(tokens, "withdrawn");
}

const OF_DAY = /(?:^| )(?:dates?|days?)(?: |$)/u;

/** "Without the white lead", "no cushion". */
function lacksPiece(tokens: readonly WorkToken[]): boolean {
  const not = tokens.findIndex(({ senses }) => senses[0] === "no");
  const next = tokens.slice(not + 1).find(({ senses }) => senses[0] !== "filler");
  if (not < 0 || next === undefined) return false;
  return (
    next.names.length > 0 || (["left", "right", "lead"] as const).some((one) => has(tokens, one))
  );
}

/** Whether a statement names a day or a month that is not the one of the job. */
function isOtherDay(text: string, date: Day | null): boolean {
  if (date === null) return false;
  return text.split(/[;,\n]+/u).some((statement) => {
    const isOfJob = !isOfOtherDay(phraseOf(statement));
    return isOfJob && namesOtherDay(statement.replaceAll(NUMBERED, " "), date);
  });
}

const NOT_THERE = /(?:^| )(?:lost|(?:at|in) repair)(?: |$)/u;

/** Whether a text says that a part is yet to be replaced, or not there. */
export function mustGo(text: string): boolean {
  const phrase = phraseOf(text);
  return TO_REPLACE.test(phrase) || NOT_THERE.test(phrase);
}

/** Whether a text beside an inspection says that it was not made; of damage it says that it was. */
export function leftUndone(text: string): boolean {
  const tokens = tokensOf(text);
  if (has(tokens, "damaged") || has(tokens, "clean")) return false;
  const phrase = phraseOf(text);
  return isNotMade(phrase) || isTakenBack(phrase) || (has(tokens, "off") && !has(tokens, "later"));
}

/** Whether a text under Lot takes back the replacement: of the lot itself it may say that nobody knows it. */
export function lotTakesBack(lot: string): boolean {
  return takesBack(`lot ${lot}`);
}

/** What the word of a note says where it takes back nothing. */
const CALM: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...([
    "replaced",
    "new",
    "whole",
    "left",
    "right",
    "lead",
    "clean",
    "inspected",
    "filler",
  ] as const),
]);

/** Whether a text beside a replacement says plainly nothing against it; of another device it may. */
export function saysNothing(text: string): boolean {
  const said = withoutKept(text);
  if (said === "") return true;
  if (/\p{L}-\d/u.test(said)) return false;
  const isCalm = ({ names, senses }: WorkToken): boolean =>
    names.length > 0 || (senses.length > 0 && senses.every((sense) => CALM.has(sense)));
  return phraseOf(said)
    .split(" ")
    .every((word) => isPlain(word) || tokensOf(word).every(isCalm));
}
