import { addMonths, type Day, isoText, monthStart, toDay } from "../../core/day.ts";
import type { LookAhead } from "../../core/schedule.ts";
import type { WorkCalendar } from "../../core/workday.ts";
import type { UseSpread } from "./use-spread.ts";

/**
 * The time looked at: whole months from the report date. They lie in one calendar month more, the first and the
 * last of which are there in part.
 */
export interface Horizon {
  readonly reportDate: Day;
  readonly months: number;
  /** Chance that a number lies within its limits. */
  readonly level: number;
  /** How uncertain the usage is by which intervals go. */
  readonly spread: UseSpread;
  /** What falls due on a day off is done on the last working day before. */
  readonly calendar: WorkCalendar;
}

/** Which days of a calendar month looked at are ahead, in words; "" where all of it is. */
export function partText(at: number, { reportDate, months }: Horizon): string {
  const end = addMonths(reportDate, months);
  if (at === 0) return `after ${isoText(reportDate)}`;
  return at === months && addMonths(monthStart(end), 1) > end + 1 ? `to ${isoText(end)}` : "";
}

/** First days of the calendar months looked at: one more than whole months. */
export function monthsAhead({ reportDate, months }: Pick<Horizon, "reportDate" | "months">): Day[] {
  return Array.from({ length: months + 1 }, (_, at) => addMonths(monthStart(reportDate), at));
}

const times = new WeakMap<Horizon, Map<number | null, LookAhead>>();

/** The one time ahead of a horizon, or of so many days of it: what is known of it is found by it. */
export function aheadOf(horizon: Horizon, days: number | null = null): LookAhead {
  const known = times.get(horizon) ?? new Map<number | null, LookAhead>();
  times.set(horizon, known);
  const ahead = known.get(days) ?? lookedAt(horizon, days);
  known.set(days, ahead);
  return ahead;
}

function lookedAt({ reportDate, months, calendar }: Horizon, days: number | null): LookAhead {
  if (days === null) return { from: reportDate, horizon: months, calendar };
  const until = toDay(reportDate + days, "lead time and days between orders");
  let near = 1;
  while (addMonths(reportDate, near) < until) near += 1;
  return { from: reportDate, horizon: near, calendar, until };
}
