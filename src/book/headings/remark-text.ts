import type { WorkSense } from "../languages/language.ts";
import { READS } from "../languages/translate.ts";
import { isQuestion, phraseOf, wordsIn } from "../languages/words-of.ts";
import type { Part } from "../records/records.ts";
import { remembering } from "../records/remembering.ts";
import { datesIn } from "./dates-in.ts";
import { asks } from "./asked.ts";
import { damageLeft, statementsOf } from "./damage-left.ts";
import { COMMON, namesPart, type PartWords, partWords } from "./part-words.ts";
import { type NamedPart, partsNamed } from "./parts-named.ts";
import {
  isExchanged,
  isNotNew,
  isOnly,
  isPartly,
  isTakenBack,
  LATE_ALONE,
  MISSING,
  NOT_TO_USE,
  OF_PAPER,
  SENDS,
  TO_REPLACE,
  TO_SETTLE,
  UNSURE,
} from "./withdrawing-words.ts";
import { has, type WorkToken } from "./work-tokens.ts";

/**
 * What free text beside a device or a date says of it. Against: it withdraws or condemns what stands there.
 * Open: it speaks of a part, and of something to come, another day or a question. Nothing: neither.
 */
type RemarkSays = "against" | "open" | "nothing";

/** Phrases that withdraw what stands beside them, whatever else is said: of one place or day alone they do not. */
const WITHDRAWING =
  /(?:^| )(?:(?:do not|don t|not to be) used?(?! (?:in|at|on|with|for|during|before|after) )|unsure|not (?:quite |so )?sure|uncertain|doubt|doubtful|(?:dates?|days?)(?: is| was| are)? (?:wrong|incorrect|mistaken)|(?:wrong|incorrect|mistaken) (?:date|day)|(?:dates?|days?) (?:was|is) (?:really|actually)|(?:really|actually) (?:changed|replaced|done)|by mistake|typo|overdue|unsafe)(?: |$)/u;
const WITHDRAWN = [WITHDRAWING, UNSURE, NOT_TO_USE];
/** What is over is no longer so. */
const OVER =
  /(?:^| )(?:back(?: in (?:use|service))?|released|returned|resolved|repaired|never|again)(?: |$)/u;
const LEAVING = /(?:^| )(?:(?:out of|no longer in) (?:use|order|service)|quarantined?)(?: |$)/u;
const UNUSED = /(?:^| )(?:(?:do not|don t|not to be) used?|unsafe)(?: |$)/u;
/** An interval somebody states. */
const INTERVAL =
  /(?:^| )(?:every|each|all|monthly|weekly|quarterly|yearly|\d+ (?:months?|weeks?|days?))(?: |$)/u;

/** Whose skin it is, in the eight languages. */
const OF_SKIN =
  /(?:^| )(?:bab|child|infant|newborn|skin|forehead|kind|saugling|haut|enfant|bebe|peau|nin[oa]|piel|bambin|neonat|pelle|pele|crianc|huid|dzieck|skor[aey])/u;

/** A mark alone; what a question without a part is of, nobody can tell. */
export const ASKING = /^[?\s]+$/u;

/** What a reader of remarks makes of a text; of a state where it stands under a heading of states. */
export interface RemarkReader {
  readonly says: (text: string, isStatus?: boolean) => RemarkSays;
  /** Codes of the parts alone that a text speaks against; null where it may be the whole device. */
  readonly onlyOf: (text: string) => readonly string[] | null;
  /** Codes of the parts that a text names; null where it names none. */
  readonly namedIn: (text: string) => readonly string[] | null;
  /** Whether a text under some heading says that a part, named in either, is damaged, or that it harmed somebody. */
  readonly condemns: (text: string, heading: string) => boolean;
  /** What answers below a heading say against their rows; null of a heading that asks nothing. */
  readonly asks: (heading: string) => ((text: string) => boolean) | null;
  /** The same of the parts that went from one device to another; false where none did. */
  readonly exchanged: (text: string) => readonly string[] | null | false;
}

/** A reader of remarks for these parts. */
export function remarkReader(parts: readonly Part[]): RemarkReader {
  const words = partWords(parts);
  const { named, tokensOf } = words;
  const known = new Map<string, RemarkSays>();
  const says = (text: string, isStatus: boolean): RemarkSays => {
    const tokens = tokensOf(text);
    if (speaksAgainst(text, words, !isStatus)) return "against";
    const isOpen = namesPart(tokens)
      ? leavesOpen(text, tokens)
      : ASKING.test(text) || TO_SETTLE.test(phraseOf(text));
    return isOpen ? "open" : "nothing";
  };
  // The same few words stand beside thousands of devices.
  const saysOf = (text: string, isStatus = false): RemarkSays => {
    const key = `${isStatus ? "status" : "remark"} ${text}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const found = text === "" ? "nothing" : says(text, isStatus);
    known.set(key, found);
    return found;
  };
  return {
    says: saysOf,
    namedIn: (text) => {
      const tokens = tokensOf(text);
      return namesPart(tokens) ? codesIn(tokens, named) : null;
    },
    condemns: (text, heading) => {
      if (saysOf(text) !== "against") return false;
      const [tokens, over] = [tokensOf(text), tokensOf(heading)];
      // Why a part was replaced is over.
      if (!has(tokens, "damaged") || has(over, "replaced")) return false;
      return namesPart([...tokens, ...over]) || OF_SKIN.test(phraseOf(text));
    },
    asks: (heading) => asks(heading, words),
    onlyOf: (text) => {
      const said = saidOfParts(text, tokensOf);
      return said === null ? null : codesIn(said, named);
    },
    exchanged: remembering((text: string) => {
      const tokens = tokensOf(text);
      if (!isExchanged(phraseOf(text), namesPart(tokens))) return false;
      return namesPart(tokens) ? codesIn(tokens, named) : null;
    }),
  };
}

/** Whether a text speaks against what stands beside it, for parts by these words. */
export function speaksAgainst(text: string, words: PartWords, leaving = true): boolean {
  const { named, tokensOf } = words;
  const tokens = tokensOf(text);
  if (isAgainst(text, tokens, leaving)) return true;
  const codesOf = (some: readonly WorkToken[]): string[] => codesIn(some, named);
  return (
    has(tokens, "damaged") && has(tokens, "replaced") && damageLeft(text, { tokensOf, codesOf })
  );
}

/** More than the parts that are named. */
const MORE =
  /^(?:all|every|everything|whole|entire|both|except|others?|else|rest|units?|screeners?|machines?|equipment|rows?|alle[ns]?|ausser|tou(?:te?s?|s)|sauf|tod[oa]s?|salvo|exceto|tutt[oaie]|tranne|behalve|wszystk\w*|oprocz)$/u;

/** Whether a word is of the device, in any language, or of more than the parts that are named. */
function isMore(word: string): boolean {
  return MORE.test(word) || /^devices?$/u.test(READS.get(word) ?? word);
}

interface Statement {
  readonly statement: string;
  readonly tokens: readonly WorkToken[];
}

/**
 * What is said of the parts that a text names, where all that it speaks against is of one: each statement names its own.
 * What was replaced is left out.
 */
function saidOfParts(
  text: string,
  tokensOf: (text: string) => readonly WorkToken[],
): WorkToken[] | null {
  if (wordsIn(text).some(isMore)) return null;
  const statements = statementsOf(text).map((statement): Statement => ({
    statement,
    tokens: tokensOf(statement),
  }));
  const against = statements.filter(({ statement, tokens }) => isAgainst(statement, tokens));
  const isOfParts =
    against.length > 0 &&
    against.every((one) => {
      const before = statements[statements.indexOf(one) - 1];
      // "Cushion: torn" and "cushion, date unsure" have the part before them.
      const isHeaded = before?.tokens.every((token) => token.names.length > 0) === true;
      return isHeaded || isOfPart(one.statement, one.tokens);
    });
  if (!isOfParts) return null;
  const said = statements.filter((one) => against.includes(one) || !has(one.tokens, "replaced"));
  return said.flatMap(({ tokens }) => tokens);
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
  if (isUnchanged(tokens)) return true;
  if (leaving && hasLeft(text, tokens) && !OVER.test(phraseOf(text))) return true;
  // The damage of a battery or a screen is nobody's concern here, and what was replaced may be good again.
  const isElsewhere =
    says("other") && !says("lead") && tokens.every((token) => token.names.length === 0);
  return says("damaged") && !isElsewhere && !says("replaced");
}

/** Whether words deny that a part was replaced. */
export function isUnchanged(tokens: readonly WorkToken[]): boolean {
  const not = tokens.findIndex(({ senses }) => senses.includes("no"));
  const after = not < 0 ? [] : tokens.slice(not);
  return has(after, "replaced") || has(after, "maybe");
}

/** Whether a text withdraws what stands beside it or leaves it to be settled, whatever else it says. */
export function isWithdrawn(text: string): boolean {
  const phrase = phraseOf(text);
  if (TO_SETTLE.test(phrase) || isNotNew(phrase, false)) return true;
  return isTakenBack(phrase) || WITHDRAWN.some((one) => one.test(phrase));
}

/** Whether a phrase withdraws a date, or says that a part is gone, not new or on one side alone. */
function withdraws(phrase: string, tokens: readonly WorkToken[]): boolean {
  const alone = [...WITHDRAWN, LATE_ALONE, TO_REPLACE];
  if (isTakenBack(phrase) || alone.some((one) => one.test(phrase))) return true;
  if (isNotNew(phrase, namesPart(tokens)) || isPutOff(tokens)) return true;
  if (isLess(phrase, tokens)) return true;
  if (SENDS.test(phrase) && namesPart(tokens) && !INTERVAL.test(phrase)) return true;
  return MISSING.test(phrase) && namesPart(tokens) && !OF_PAPER.test(phrase);
}

/** Words of a remark that is of nothing but what it says of a piece. */
const SHORT = 3;

/** Whether it is the work that was put off: it is named, or nothing else is. */
function isPutOff(tokens: readonly WorkToken[]): boolean {
  if (!has(tokens, "off")) return false;
  if (namesPart(tokens) || has(tokens, "replaced") || has(tokens, "maybe")) return true;
  const isFirst = tokens[0]?.senses.includes("off") === true;
  return isFirst && !has(tokens, "nothing") && !has(tokens, "other");
}

/** Whether less was done than a part replaced: one piece of it, cleaning or looking alone. */
function isLess(phrase: string, tokens: readonly WorkToken[]): boolean {
  const isOfPart = namesPart(tokens) || has(tokens, "replaced");
  if (isPartly(phrase) && (isOfPart || tokens.length <= SHORT)) return true;
  const isIdle = ["inspected", "nothing", "clean"] as const;
  const isKnown = tokens.every(({ known }) => known) && !phrase.includes("training");
  return isOnly(phrase) && isKnown && isIdle.some((sense) => has(tokens, sense));
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
