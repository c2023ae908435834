import { civilDate, civilDayOrNull, type Day, isoText } from "../../../core/day.ts";
import { damageIn } from "../../records/finding-words.ts";
import { type CellPlace, fault } from "../../records/problems.ts";
import type { Job, Problem } from "../../records/records.ts";

/** Days by which rows of a log that is kept by date may stand out of order. */
const NEAR = 31;
/** A log is kept by date where its days fall at most once in so many rows that rise. */
const KEPT = 10;
/** Rows below one in which the next that is no slip is looked for. */
const ROWS = 50;

/**
 * Damage of the Job log on a day that would stand among the rows around it, were it of their year: the year may be
 * mistyped, and a replacement since would answer it. It has no day then, so that it stays open.
 */
export function withYearSlips(
  jobs: readonly Job[],
  reportDate: Day,
  placeOf: (row: number) => CellPlace,
): { readonly jobs: readonly Job[]; readonly told: readonly Problem[] } {
  const dated = jobs.filter((one): one is Dated => one.date !== null && one.date <= reportDate);
  if (!isKeptByDate(dated)) return { jobs, told: [] };
  const slips = new Map<Job, Problem>();
  // The day that rows of this year stand below: that of the last row which is no slip itself.
  let before = dated[0]?.date ?? reportDate;
  dated.forEach((one, at) => {
    const { date, row, job, finding } = one;
    const other =
      date < before
        ? slipOf(date, { before, after: nextOf(dated, at, before) ?? reportDate, reportDate })
        : null;
    if (other === null) {
      before = date;
      return;
    }
    if (job === "replaced" || job === "calibrated" || damageIn(finding) === null) return;
    const cause = `${isoText(date)} stands among rows of another year, so it may be ${isoText(other)}; what it found stays open.`;
    const fix = "Correct the year, or move the row where its day belongs.";
    slips.set(one, fault("date out of range", placeOf(row), cause, fix));
  });
  const without = jobs.map((one): Job => (slips.has(one) ? { ...one, date: null } : one));
  return slips.size === 0 ? { jobs, told: [] } : { jobs: without, told: [...slips.values()] };
}

type Dated = Job & { readonly date: Day };

/** The next day that is not before one, among the rows that follow. */
function nextOf(dated: readonly Dated[], at: number, before: Day): Day | null {
  return dated.slice(at + 1, at + ROWS).find(({ date }) => date >= before)?.date ?? null;
}

interface Around {
  readonly before: Day;
  readonly after: Day;
  readonly reportDate: Day;
}

/** The day of the year around it that it may be; null where none would stand there. */
function slipOf(date: Day, { before, after, reportDate }: Around): Day | null {
  const fits = (day: Day): boolean =>
    day > date && day <= reportDate && day >= before - NEAR && day <= after + NEAR;
  const meant = [before, after].map((near) => inYearOf(date, near));
  return meant.find((day) => day !== null && fits(day)) ?? null;
}

function isKeptByDate(dated: readonly Dated[]): boolean {
  let rises = 0;
  let falls = 0;
  dated.forEach(({ date }, at) => {
    const before = dated[at - 1]?.date ?? date;
    if (date > before) rises += 1;
    if (date < before) falls += 1;
  });
  return falls > 0 && falls * KEPT <= rises;
}

/** The same day of the year of another one; null for 29 February of a year that has none. */
function inYearOf(date: Day, near: Day): Day | null {
  const { month, dayOfMonth } = civilDate(date);
  return civilDayOrNull(civilDate(near).year, month, dayOfMonth);
}
