import { type Day, toDay } from "../../../core/day.ts";
import { isWorkday } from "../../../core/workday.ts";
import { isLastDone } from "../../records/positions.ts";
import { notice } from "../../records/problems.ts";
import type { Ours, Problem } from "../../records/records.ts";
import { calendarOf } from "../../records/work-calendar.ts";
import { quoted, trueDate } from "../../workbook/cells.ts";
import { address } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import { dayOrMonths, runsIn, type StepOf } from "./misplaced-dates.ts";
import type { Found } from "../register/register.ts";

/** Dates that go on by one step, each time, are a rotation or a slip from so many on. */
const ENOUGH = 6;
const WEEK = 7;

/**
 * Dates of last replacements that go on by a week, by months or from one working day to the next. A rotation is kept so,
 * and a cell that was filled down looks the same: no date is in doubt for it, but a person is told.
 */
export function datesInStep(
  { page, register }: Found,
  named: readonly Named[],
  ours: Ours,
  told: readonly Problem[],
): Problem[] {
  const calendar = calendarOf(ours);
  const works = (date: Day): boolean => isWorkday(date, calendar);
  const isNextDay = (one: Day, other: Day): boolean => {
    if (other <= one || other - one - 1 > WEEK || !works(one) || !works(other)) return false;
    let between = toDay(one + 1);
    while (between < other && !works(between)) between = toDay(between + 1);
    return between === other;
  };
  const steps: readonly StepOf[] = [
    (one, other) => (isNextDay(one, other) ? 1 : isNextDay(other, one) ? -1 : 0),
    (one, other) => (Math.abs(other - one) === WEEK ? other - one : 0),
    dayOrMonths,
  ];
  return register.matches.flatMap(({ field, column, heading }) => {
    if (!isLastDone(field)) return [];
    const dates = named.map(({ row }) => trueDate(page, row, column));
    const isTold = told.some((one) => one.column === column && one.kind === "misplaced date");
    const runs = isTold ? [] : steps.flatMap((stepOf) => runsIn(dates, ENOUGH, stepOf));
    const [run] = runs.sort(([one], [other]) => one - other);
    const [first, last] = [named[run?.[0] ?? -1], named[run?.[1] ?? -1]];
    if (first === undefined || last === undefined) return [];
    const cells = `${address(first.row, column)} to ${address(last.row, column)}`;
    return [
      notice(
        "dates in step",
        { sheet: page.sheet.name, row: null, column, heading },
        `The dates of ${quoted(heading)} in ${cells} go on by one and the same step, as in a rotation, or where a cell was filled down; they count.`,
        "See whether they are the days of the last replacements.",
      ),
    ];
  });
}
