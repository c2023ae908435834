import { addMonths, type Day, isDay } from "../../core/day.ts";
import { dueState, nextDue, type RowCheck, rowCheck, type State } from "../../core/due.ts";
import { replacementInterval } from "../../core/usage.ts";
import type { WorkCalendar } from "../../core/workday.ts";
import { hasCurve, isSound } from "../records/curve.ts";
import { doubtText } from "../records/doubt-causes.ts";
import type { Doubt } from "../records/problem-kinds.ts";
import type { OwnLimits } from "../records/own-limits.ts";
import type { Part } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Settings } from "../records/settings.ts";

/**
 * What the computed columns of one part read in one row, as the cells stand: numbers that are dates
 * count as in 1900 books. `countedTo` is undefined where usage carries no date.
 */
export interface RowFacts {
  readonly lastDone: CellValue;
  readonly uses: CellValue;
  readonly countedTo: CellValue | undefined;
  /** What ended the part's life, in words; null for nothing. */
  readonly finding: string | null;
  /** Gone for good: nothing contradicts it. */
  readonly retired: boolean;
  readonly doubt: Doubt | null;
  /** Wipes of the row's site as Sites states them, "" when unknown. */
  readonly wipes: string;
  /** Limits of the register's own; absent where it has none. */
  readonly own?: OwnLimits | undefined;
}

/** What the whole programme has in common. */
export interface Common {
  readonly settings: Settings;
  readonly calendar: WorkCalendar;
}

/** What is wrong with a row, or OK. */
type Check = RowCheck | "Date in doubt" | "Usage late" | (typeof OWN)[keyof typeof OWN];

/** What the row check says where a limit of the register's own goes before ours. */
export const OWN = { due: "Own date is earlier", months: "Own interval is shorter" } as const;

/** The four answers of a row, exactly as the portable formulas give them. */
export interface Answers {
  readonly interval: number | "";
  readonly due: Day | null;
  readonly state: State | "Retired";
  readonly check: Check;
}

/** The computed columns of one part in one row. */
export function answersOf(part: Part, facts: RowFacts, common: Common): Answers {
  const { settings, calendar } = common;
  if (facts.retired) return { interval: "", due: null, state: "Retired", check: "OK" };
  const check = checkOf(part, facts, settings);
  const plain = isSound(part) ? intervalOf(part, facts, settings) : null;
  const interval = plain === null ? null : shorter(plain, facts.own?.months);
  const lastDone = facts.doubt === null ? trustedDay(facts.lastDone, settings.reportDate) : null;
  const ours =
    interval === null || lastDone === null ? null : nextDue(lastDone, interval, calendar);
  const { due, isOwn, isEnd } = strictest(ours, lastDone, facts);
  const own = isOwn ? OWN.due : isEnd || interval !== plain ? OWN.months : null;
  return {
    interval: interval ?? "",
    due,
    state: dueState(due, settings.reportDate, settings.noticeDays, facts.finding),
    check: check === "OK" && own !== null ? own : check,
  };
}

/** Our due date, the end of an own interval shorter than a month, or the own due date: the earliest, and which it is. */
function strictest(ours: Day | null, lastDone: Day | null, { own }: RowFacts) {
  if (ours === null || lastDone === null) return { due: null, isOwn: false, isEnd: false };
  const end = shorter(ours, ownEnd(lastDone, own));
  const due = shorter(end, own?.due);
  return { due, isOwn: due !== end, isEnd: end !== ours };
}

/** The end of the register's own interval where that is shorter than a month; null where it is not. */
export function ownEnd(began: Day, own: OwnLimits | undefined): Day | null {
  const days = own?.days ?? null;
  return days === null ? null : ((began + days) as Day);
}

/** The stricter of our limit and the register's own. */
function shorter<T extends number>(ours: T, own: T | null | undefined): T {
  return own !== null && own !== undefined && own < ours ? own : ours;
}

/** Whether nothing is wrong with a row: a stricter limit of its own is no fault. */
export function isTrusted({ check }: Answers): boolean {
  return check === "OK" || check === OWN.due || check === OWN.months;
}

/** Whole months: by the curve where usage can be trusted and nothing else is in doubt, else the short end. */
function intervalOf(part: Part, facts: RowFacts, settings: Settings): number {
  const { uses, doubt } = facts;
  const trusted =
    doubt === null && typeof uses === "number" && uses >= 0 && !isLate(facts, settings);
  return intervalAt(part, trusted ? uses : null, facts.wipes);
}

/**
 * Whole months between replacements at so many uses a month (null: unknown) and with these wipes; no more than the
 * register's own limits allow (null: it has none).
 */
export function intervalAt(
  part: Part,
  uses: number | null,
  wipes: string,
  most: number | null = null,
): number {
  const readsUsage = !part.task && hasCurve(part) && (!part.vinyl || wipes === "alcohol-free");
  const months = replacementInterval({
    usesPerMonth: readsUsage ? uses : null,
    shortest: part.shortest ?? 1,
    longest: part.longest ?? 1,
    useBudget: (part.useBudget ?? 0) > 0 ? part.useBudget : null,
    lightUse: part.lightUse,
    heavyUse: part.heavyUse,
  });
  return shorter(months, most);
}

function checkOf(part: Part, facts: RowFacts, settings: Settings): Check {
  if (facts.doubt !== null) return "Date in doubt";
  const sound = isSound(part);
  const readsUsage = !part.task && hasCurve(part);
  const check = rowCheck(
    {
      lastDone: plain(facts.lastDone),
      usesPerMonth: readsUsage ? plain(facts.uses) : 0,
      shortest: sound ? part.shortest : null,
      longest: sound ? part.longest : null,
    },
    settings.reportDate,
  );
  return check === "OK" && readsUsage && isLate(facts, settings) ? "Usage late" : check;
}

/** A count from long ago no longer says what today's use is. */
function isLate(facts: RowFacts, settings: Settings): boolean {
  const { countedTo } = facts;
  if (countedTo === undefined) return false;
  if (typeof countedTo !== "number" || !isDay(countedTo)) return true;
  return addMonths(countedTo, settings.lateMonths) < settings.reportDate;
}

function trustedDay(value: CellValue, reportDate: Day): Day | null {
  const check = rowCheck(
    { lastDone: plain(value), usesPerMonth: 0, shortest: 1, longest: 1 },
    reportDate,
  );
  const whole = typeof value === "number" ? Math.floor(value) : 0;
  return check === "OK" && isDay(whole) ? whole : null;
}

/** TRUE and cell errors are no numbers and no blanks: they read as text, as in the formulas. */
function plain(value: CellValue): number | string | null {
  return typeof value === "object" || typeof value === "boolean"
    ? value === null
      ? null
      : "no number"
    : value;
}

/** The row check in words for a list, "" where all is well; a doubt is named. */
export function whyOf({ check }: Answers, { doubt }: RowFacts): string {
  if (doubt !== null) return `${check}: ${doubtText(doubt)}`;
  return check === "OK" ? "" : check;
}
