import type { Day } from "../../core/day.ts";
import type { WorkSense } from "../languages/language.ts";
import { READS } from "../languages/translate.ts";
import { isQuestion, phraseOf, wordsIn } from "../languages/words-of.ts";
import type { Part } from "../records/records.ts";
import { damageLeft, statementsOf } from "./damage-left.ts";
import { isYearless, readDateText } from "./dates.ts";
import { COMMON, namesPart, partWords } from "./part-words.ts";
import { type NamedPart, partsNamed } from "./parts-named.ts";
import {
  LATE_ALONE,
  MISSING,
  NOT_NEW,
  NOT_TO_USE,
  OF_PAPER,
  ONE_SIDE,
  SENDS,
  SIDE_ALONE,
  TO_GO,
  TO_REPLACE,
  TO_SETTLE,
  UNDONE,
  UNSURE,
} from "./withdrawing-words.ts";
import { type WorkToken, workTokens } from "./work-tokens.ts";

/**
 * What free text beside a device or a date says of it. Against: it withdraws or condemns what stands there.
 * Open: it speaks of a part, and of something to come, another day or a question. Nothing: neither.
 */
type RemarkSays = "against" | "open" | "nothing";

/** Phrases that withdraw what stands beside them, whatever else is said: of one place or day alone they do not. */
const WITHDRAWING =
  /(?:^| )(?:(?:do not|don t|not to be) used?(?! (?:in|at|on|with|for|during|before|after) )|unsure|not (?:quite |so )?sure|uncertain|doubt|doubtful|(?:dates?|days?)(?: is| was| are)? (?:wrong|incorrect|mistaken)|(?:wrong|incorrect|mistaken) (?:date|day)|(?:dates?|days?) (?:was|is) (?:really|actually)|(?:really|actually) (?:changed|replaced|done)|by mistake|typo|overdue|unsafe)(?: |$)/u;
const WITHDRAWN = [WITHDRAWING, UNSURE, UNDONE, NOT_NEW, NOT_TO_USE];
/** What is over is no longer so. */
const OVER =
  /(?:^| )(?:back(?: in (?:use|service))?|released|returned|resolved|repaired|never|again)(?: |$)/u;
const LEAVING = /(?:^| )(?:(?:out of|no longer in) (?:use|order|service)|quarantined?)(?: |$)/u;
const UNUSED = /(?:^| )(?:(?:do not|don t|not to be) used?|unsafe)(?: |$)/u;
/** An interval somebody states. */
const INTERVAL =
  /(?:^| )(?:every|each|all|monthly|weekly|quarterly|yearly|\d+ (?:months?|weeks?|days?))(?: |$)/u;
const LONGEST_DATE = 5;

/** A mark alone; what a question without a part is of, nobody can tell. */
const ASKING = /^[?\s]+$/u;

/** What a reader of remarks makes of a text; of a state where it stands under a heading of states. */
export interface RemarkReader {
  readonly says: (text: string, isStatus?: boolean) => RemarkSays;
  /** Codes of the parts alone that a text speaks against; null where it may be the whole device. */
  readonly onlyOf: (text: string) => readonly string[] | null;
}

/** A reader of remarks for these parts. */
export function remarkReader(parts: readonly Part[]): RemarkReader {
  const { named, tokensOf } = partWords(parts);
  const codesOf = (tokens: readonly WorkToken[]): string[] => codesIn(tokens, named);
  const leftDamaged = (text: string, tokens: readonly WorkToken[]): boolean =>
    has(tokens, "damaged") && has(tokens, "replaced") && damageLeft(text, { tokensOf, codesOf });
  const known = new Map<string, RemarkSays>();
  const says = (text: string, isStatus: boolean): RemarkSays => {
    const tokens = tokensOf(text);
    if (isAgainst(text, tokens, !isStatus) || leftDamaged(text, tokens)) return "against";
    const isOpen = namesPart(tokens)
      ? leavesOpen(text, tokens)
      : ASKING.test(text) || TO_SETTLE.test(phraseOf(text));
    return isOpen ? "open" : "nothing";
  };
  return {
    // The same few words stand beside thousands of devices.
    says: (text, isStatus = false) => {
      const key = `${isStatus ? "status" : "remark"} ${text}`;
      const before = known.get(key);
      if (before !== undefined) return before;
      const found = text === "" ? "nothing" : says(text, isStatus);
      known.set(key, found);
      return found;
    },
    onlyOf: (text) => (isOfParts(text, tokensOf) ? codesIn(tokensOf(text), named) : null),
  };
}

/** More than the parts that are named. */
const MORE =
  /^(?:all|every|everything|whole|entire|both|except|others?|else|rest|units?|screeners?|machines?|equipment|rows?|alle[ns]?|ausser|tou(?:te?s?|s)|sauf|tod[oa]s?|salvo|exceto|tutt[oaie]|tranne|behalve|wszystk\w*|oprocz)$/u;

/** Whether a word is of the device, in any language, or of more than the parts that are named. */
function isMore(word: string): boolean {
  return MORE.test(word) || /^devices?$/u.test(READS.get(word) ?? word);
}

/** Whether all that a text speaks against is said of parts that it names: each statement names its own. */
function isOfParts(text: string, tokensOf: (text: string) => readonly WorkToken[]): boolean {
  if (wordsIn(text).some(isMore)) return false;
  const statements = statementsOf(text).map((statement) => ({
    statement,
    tokens: tokensOf(statement),
  }));
  const against = statements.filter(({ statement, tokens }) => isAgainst(statement, tokens));
  return (
    against.length > 0 &&
    against.every((one) => {
      const before = statements[statements.indexOf(one) - 1];
      // "Cushion: torn" and "cushion, date unsure" have the part before them.
      const isHeaded = before?.tokens.every((token) => token.names.length > 0) === true;
      return isHeaded || isOfPart(one.statement, one.tokens);
    })
  );
}

/** Whether a statement names a part; one that takes something out of use begins with it, else the device may go with it. */
function isOfPart(statement: string, tokens: readonly WorkToken[]): boolean {
  const first = tokens.findIndex((token) => token.names.length > 0);
  return hasLeft(statement, tokens) || UNUSED.test(phraseOf(statement)) ? first === 0 : first >= 0;
}

/** Codes of the parts that are named; a word of several parts, or of a longer name, names each of them. */
function codesIn(tokens: readonly WorkToken[], named: readonly NamedPart[]): string[] {
  const words = new Set([...tokens.flatMap((token) => token.names), ...COMMON]);
  const { parts, left } = partsNamed(named, words);
  const also = named.filter(({ names }) =>
    names.some((name) => name.some((word) => left.has(word) && !COMMON.has(word))),
  );
  return [...new Set([...parts, ...also.map(({ part }) => part)].map(({ code }) => code))];
}

/** Of a state, what is said of leaving is left out: it is told with the other words of states. */
function isAgainst(text: string, tokens: readonly WorkToken[], leaving = true): boolean {
  if (withdraws(phraseOf(text), tokens)) return true;
  const says = (sense: WorkSense): boolean => has(tokens, sense);
  const unchanged = tokens.findIndex(({ senses }) => senses.includes("no"));
  const after = unchanged < 0 ? [] : tokens.slice(unchanged);
  if (has(after, "replaced") || has(after, "maybe")) return true;
  if (leaving && hasLeft(text, tokens) && !OVER.test(phraseOf(text))) return true;
  // The damage of a battery or a screen is nobody's concern here, and what was replaced may be good again.
  const isElsewhere =
    says("other") && !says("lead") && tokens.every((token) => token.names.length === 0);
  return says("damaged") && !isElsewhere && !says("replaced");
}

/** Whether a text withdraws what stands beside it or leaves it to be settled, whatever else it says. */
export function isWithdrawn(text: string): boolean {
  const phrase = phraseOf(text);
  return TO_SETTLE.test(phrase) || WITHDRAWN.some((one) => one.test(phrase));
}

/** Whether a comment to a number withdraws it, asks, or calls it a guess. */
export function speaksAgainstCount(text: string): boolean {
  return isWithdrawn(text) || isQuestion(text) || GUESSED.test(phraseOf(text));
}

/** Whether a text says that a part is yet to be replaced. */
export function mustGo(text: string): boolean {
  return TO_GO.test(phraseOf(text));
}

/** Whether a text takes back a job beside which it stands: why a part was replaced does not. */
export function isUndone(text: string): boolean {
  const phrase = phraseOf(text);
  return UNDONE.test(phrase) || UNSURE.test(phrase);
}

/** Whether a phrase withdraws a date, or says that a part is gone, not new or on one side alone. */
function withdraws(phrase: string, tokens: readonly WorkToken[]): boolean {
  const alone = [...WITHDRAWN, SIDE_ALONE, LATE_ALONE, TO_REPLACE];
  if (alone.some((one) => one.test(phrase))) return true;
  if (SENDS.test(phrase) && namesPart(tokens) && !INTERVAL.test(phrase)) return true;
  if (ONE_SIDE.test(phrase) && has(tokens, "replaced")) return true;
  return MISSING.test(phrase) && namesPart(tokens) && !OF_PAPER.test(phrase);
}

/** Whether something is said to have left, or to be kept from use. */
function hasLeft(text: string, tokens: readonly WorkToken[]): boolean {
  return has(tokens, "withdrawn") || LEAVING.test(phraseOf(text));
}

/** Whether a text leaves something to come, to ask or to another day. */
function leavesOpen(text: string, tokens: readonly WorkToken[]): boolean {
  return (
    isQuestion(text) ||
    INTERVAL.test(phraseOf(text)) ||
    TO_SETTLE.test(phraseOf(text)) ||
    (["later", "no", "damaged"] as const).some((sense) => has(tokens, sense)) ||
    datesIn(text).length > 0
  );
}

function has(tokens: readonly WorkToken[], sense: WorkSense): boolean {
  return tokens.some(({ senses }) => senses.includes(sense));
}

/** What the next one is for is the ordinary plan. */
const NEXT =
  /(?:^| )(?:next|prochaine?|nächste[rsn]?|próxim[oa]|prossim[oa]|volgende|następn[ay])(?: |$)/iu;
/** Numbers behind these are no days: "lot 12/25", "exp 10/2028", "room 3/4". */
const NUMBERED =
  /\b(?:lot|batch|exp(?:iry|ires?|\.)?|serial|s\/n|ref|room|ward|invoice|order|phone|tel|no|nr)\b\.?:?\s*[\p{L}\d/.-]*\d[\d/.-]*/giu;

/** Whether a comment to a date speaks against it: as a remark does, or by a question, a delay or another day. */
export function speaksAgainstDate(text: string, date: Day | null): boolean {
  const tokens = workTokens(text, () => false);
  if (isAgainst(text, tokens) || isQuestion(text) || GUESSED.test(phraseOf(text))) return true;
  if (has(tokens, "later") && !NEXT.test(text)) return true;
  // Without a number for a day "no" is said of what was done.
  const days = text.replace(NUMBERED, " ");
  if (
    has(
      workTokens(days, () => false),
      "no",
    ) &&
    SAYS_DONE.test(phraseOf(days))
  )
    return true;
  return datesIn(days).some((one) => date === null || !one.includes(date));
}

const GUESSED =
  /(?:^| )(?:guess(?:ed)?|estimated?|approx|approximately|about|maybe|perhaps)(?: |$)/u;
const SAYS_DONE = /(?:^| )(?:done|finished|confirmed|happened|true|right|correct)(?: |$)/u;

/** The dates a text names, each with the days it may be; none of them where it has no year. */
function datesIn(text: string): (readonly Day[])[] {
  const words = text.split(/[\s,;!()]+/u).filter((word) => word !== "");
  const found: (readonly Day[])[] = [];
  for (let at = 0; at < words.length; at += 1) {
    for (let length = Math.min(LONGEST_DATE, words.length - at); length > 0; length -= 1) {
      const written = words
        .slice(at, at + length)
        .join(" ")
        .replace(/[.:]+$/u, "");
      const days = daysOf(written);
      if (days === null) continue;
      found.push(days);
      at += length - 1;
      break;
    }
  }
  return found;
}

function daysOf(written: string): readonly Day[] | null {
  const said = readDateText(written);
  if (said === null) return isYearless(written) ? [] : null;
  if (said.kind === "day") return [said.date];
  if (said.kind === "month") return [];
  return [said.dmy, said.mdy, said.ymd].filter((day) => day !== null);
}
