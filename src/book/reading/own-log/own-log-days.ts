import type { Day } from "../../../core/day.ts";
import type { Problem } from "../../records/records.ts";
import type { LogLine } from "./own-log-lines.ts";
import type { LogSheet } from "./own-log-sheet.ts";
import { faultLater, type Said } from "../told/told-later.ts";

/** So many lines, and one in so many, are no slips of the pen. */
const ENOUGH = 4;
const ONE_IN = 3;

/**
 * The lines of a log, without days where these cannot be those of the work: a day that says the same of the same devices
 * time and again, as one that was filled down, or any where a third of the lines is after the report date. The later
 * day would lengthen an interval.
 */
export function withoutOddDays(
  lines: readonly LogLine[],
  { page: { sheet }, dates, headingOf }: LogSheet,
  reportDate: Day,
): readonly LogLine[] {
  const dated = lines.filter(({ days }) => days.length > 0);
  const late = dated.filter(({ days }) => Math.min(...days) > reportDate).length;
  const [column = 0] = dates;
  const without = (line: LogLine, ...said: Said): LogLine => {
    const place = { sheet: sheet.name, row: line.row, column, heading: headingOf(column) };
    const fault: Problem = faultLater("misplaced date", place, ...said);
    return { ...line, days: [], fault };
  };
  const isMany = (some: number, all: number): boolean => some >= ENOUGH && some * ONE_IN >= all;
  if (isMany(late, dated.length)) {
    return lines.map((line) => without(line, "oftenLate", sheet.name, late, dated.length));
  }
  const byDay = new Map<Day, { all: number; readonly kinds: Set<string> }>();
  for (const { days, deviceKey, key } of dated) {
    for (const day of days) {
      const seen = byDay.get(day) ?? { all: 0, kinds: new Set() };
      seen.all += 1;
      byDay.set(day, { all: seen.all, kinds: seen.kinds.add(`${deviceKey} ${key}`) });
    }
  }
  return lines.map((line) => {
    for (const day of line.days) {
      const { all = 0, kinds } = byDay.get(day) ?? {};
      const again = all - (kinds?.size ?? 0);
      if (isMany(again, all)) return without(line, "sameDay", sheet.name, day, again);
    }
    return line;
  });
}
