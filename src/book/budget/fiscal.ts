import { addMonths, civilDate, type Day, monthStart } from "../../core/day.ts";

/** A quarter of a fiscal year. */
export interface Quarter {
  /** Such as "2026/27 Q1", or "2026 Q1" where the fiscal year is the calendar year. */
  readonly name: string;
  readonly from: Day;
  /** Its months, counted from the month of the report date. */
  readonly first: number;
  readonly last: number;
}

/** A fiscal year to be budgeted. */
export interface FiscalYear {
  readonly name: string;
  readonly from: Day;
  /** First day after it. */
  readonly end: Day;
  readonly quarters: readonly Quarter[];
  /** Months from that of the report date up to its end. */
  readonly months: number;
}

const QUARTERS = [0, 1, 2, 3] as const;

/** The fiscal year that begins in a month; by default the next one that has not begun before the report date's month. */
export function fiscalYear(reportDate: Day, fiscalStart: number, from: Day | null): FiscalYear {
  const running = monthStart(reportDate);
  const begin = from === null ? nextStart(running, fiscalStart) : monthStart(from);
  const ahead = monthsBetween(running, begin);
  const { year } = civilDate(begin);
  const name =
    fiscalStart === 1 && civilDate(begin).month === 1 ? `${year}` : `${year}/${two(year + 1)}`;
  return {
    name,
    from: begin,
    end: addMonths(begin, 12),
    months: ahead + 12,
    quarters: QUARTERS.map((quarter) => ({
      name: `${name} Q${quarter + 1}`,
      from: addMonths(begin, quarter * 3),
      first: ahead + quarter * 3,
      last: ahead + quarter * 3 + 2,
    })),
  };
}

/** Days a budget may begin ahead: four years. */
const FARTHEST = 4 * 366;

/** Whether a budget may begin in a month: from the report date's own on, within four years. */
export function mayBegin(month: Day, reportDate: Day): boolean {
  return month >= monthStart(reportDate) && month <= reportDate + FARTHEST;
}

function nextStart(running: Day, fiscalStart: number): Day {
  let month = running;
  while (civilDate(month).month !== fiscalStart) month = addMonths(month, 1);
  return month;
}

function monthsBetween(from: Day, to: Day): number {
  const [one, other] = [civilDate(from), civilDate(to)];
  return (other.year - one.year) * 12 + other.month - one.month;
}

function two(year: number): string {
  return String(year % 100).padStart(2, "0");
}
