import { addMonths, civilDate, type Day, monthStart } from "../../core/day.ts";

/** A quarter of a fiscal year. */
export interface QuarterName {
  /** Such as "2026/27 Q1", or "2026 Q1" where the fiscal year is the calendar year. */
  readonly name: string;
  readonly from: Day;
}

/** A quarter that is not over. */
export interface Quarter extends QuarterName {
  /** Its months that are still ahead, counted from the month of the report date. */
  readonly first: number;
  readonly last: number;
}

/** A fiscal year to be budgeted, or any twelve months. */
export interface FiscalYear {
  readonly name: string;
  readonly from: Day;
  /** First day after it. */
  readonly end: Day;
  /** Quarters that are over. */
  readonly passed: readonly QuarterName[];
  /** Those that are not. */
  readonly quarters: readonly Quarter[];
  /** Months from that of the report date up to its end. */
  readonly months: number;
  /** Whether it has begun: then what is ahead is what is left of it. */
  readonly isRunning: boolean;
}

const QUARTERS = [0, 1, 2, 3] as const;

/** Months after its first day in which the year that has begun is meant where none is said; own choice, no source. */
const JUST_BEGUN = 2;

/**
 * The twelve months that begin in a month; by default the fiscal year that began in the last two months, else the
 * next one.
 */
export function fiscalYear(reportDate: Day, fiscalStart: number, from: Day | null): FiscalYear {
  const running = monthStart(reportDate);
  const begin = from === null ? usualStart(running, fiscalStart) : monthStart(from);
  const ahead = monthsBetween(running, begin);
  const { name, short } = namesOf(begin, fiscalStart);
  const all = QUARTERS.map((quarter): Quarter => ({
    name: `${short} Q${quarter + 1}`,
    from: addMonths(begin, quarter * 3),
    first: Math.max(0, ahead + quarter * 3),
    last: ahead + quarter * 3 + 2,
  }));
  return {
    name,
    from: begin,
    end: addMonths(begin, 12),
    months: ahead + 12,
    passed: all.filter(({ last }) => last < 0).map((one) => ({ name: one.name, from: one.from })),
    quarters: all.filter(({ last }) => last >= 0),
    isRunning: begin <= reportDate,
  };
}

/** Days a budget may begin ahead: four years. */
const FARTHEST = 4 * 366;

/** Whether a budget may begin in a month: its twelve months are not over, and it begins within four years. */
export function mayBegin(month: Day, reportDate: Day): boolean {
  return addMonths(month, 12) > reportDate && month <= reportDate + FARTHEST;
}

function usualStart(running: Day, fiscalStart: number): Day {
  let month = addMonths(running, 1 - JUST_BEGUN);
  while (civilDate(month).month !== fiscalStart) month = addMonths(month, 1);
  return month;
}

/** Months that are no fiscal year are named by their first and last; their quarters by the first. */
function namesOf(
  begin: Day,
  fiscalStart: number,
): { readonly name: string; readonly short: string } {
  const { year, month } = civilDate(begin);
  if (month !== fiscalStart) {
    return {
      name: `${monthName(begin)} to ${monthName(addMonths(begin, 11))}`,
      short: monthName(begin),
    };
  }
  const name = month === 1 ? `${year}` : `${year}/${two((year + 1) % 100)}`;
  return { name, short: name };
}

function monthName(month: Day): string {
  const { year, month: of } = civilDate(month);
  return `${year}-${two(of)}`;
}

function monthsBetween(from: Day, to: Day): number {
  const [one, other] = [civilDate(from), civilDate(to)];
  return (other.year - one.year) * 12 + other.month - one.month;
}

function two(number: number): string {
  return String(number).padStart(2, "0");
}
