import { DAYS_PER_MONTH } from "../../core/counts.ts";
import type { Day } from "../../core/day.ts";
import { ERROR_POINTS, type OpenIntervals, type OpenUnit } from "../../core/open-fleet.ts";
import { dueOn } from "../../core/schedule.ts";
import { intervalAt } from "../answers/answers.ts";
import { settled } from "../records/curve.ts";
import type { YearUnit } from "./fleet.ts";
import { type Horizon, monthsAhead } from "./horizon.ts";
import type { UseSpread } from "./use-spread.ts";

/** How it is looked ahead. */
interface Looked {
  readonly reportDate: Day;
  /**
   * Which usage an interval goes by: that of the month in which it ends, or the highest until then. Intervals are
   * looked at anew with every month's counts, and the first look by which a part is due makes it so.
   */
  readonly goesBy: "last" | "highest";
}

/**
 * Parts with the intervals they may come to have: at each point of the error of all sites and of their own, over
 * what their own counts leave open, which are Poisson about what is expected.
 */
export function openUnits(
  units: readonly YearUnit[],
  horizon: Horizon,
  goesBy: Looked["goesBy"] = "last",
): OpenUnit[] {
  const { reportDate, spread } = horizon;
  const looked: Looked = { reportDate, goesBy };
  const months = monthsAhead(horizon);
  return units.map((unit) => ({
    ...settledUnit(unit, months),
    ways: waysOf(unit, spread, looked),
  }));
}

/** A part with the intervals of the register. */
export function settledUnit(unit: YearUnit, ahead: readonly Day[]): OpenUnit {
  const { lastDone, months, then, site, until } = unit;
  const left = until === null ? -1 : ahead.findIndex((month) => month > until);
  const last = left < 0 ? ahead.length - 1 : left - 1;
  return { lastDone, months, then, group: site, last, ways: null };
}

function waysOf(
  unit: YearUnit,
  { common, own }: UseSpread,
  { reportDate, goesBy: which }: Looked,
): OpenIntervals | null {
  const { goesBy, part, dueAtOnce } = unit;
  if (goesBy === null) return null;
  const { now, then, wipes, most: longest } = goesBy;
  const known = settled(part);
  const due = dueOn(unit.lastDone, unit.months, {});
  const untilDue = Math.max(0, (due - reportDate) / DAYS_PER_MONTH);
  // What is due is decided; what follows goes by the uses before it is due in its turn.
  const looks = which === "highest" ? Math.ceil(untilDue) : untilDue;
  const first = dueAtOnce ? null : asLong(now, looks, { common, own });
  const second = asLong(then, looks + unit.then, { common, own });
  const monthsBy = (uses: Uncertain | null, usual: number): ((points: Points) => number) => {
    if (uses === null) return () => usual;
    const at = (points: Points): number =>
      intervalAt(known, uses.mean * Math.exp(errorOf(uses, points)), wipes, longest);
    const [most, least] = [at([REACH, REACH, REACH]), at([-REACH, -REACH, -REACH])];
    // More uses never mean a longer interval: what both ends have, all between them have.
    return most === least ? () => most : at;
  };
  const [firstBy, secondBy] = [monthsBy(first, unit.months), monthsBy(second, unit.then)];
  const reached = (points: Points): Points => (which === "highest" ? highestOf(points) : points);
  const pair = (points: Points): readonly [number, number] =>
    points.every((point) => point === 0)
      ? [unit.months, unit.then]
      : [firstBy(points), secondBy(points)];
  const [most, least] = [pair([REACH, REACH, REACH]), pair([-REACH, -REACH, -REACH])];
  if (
    most[0] === least[0] &&
    most[1] === least[1] &&
    most[0] === unit.months &&
    most[1] === unit.then
  ) {
    return null;
  }
  const pairs: { months: number; then: number }[] = [];
  const shares: number[][] = [];
  for (const one of ERROR_POINTS) {
    for (const other of ERROR_POINTS) {
      const row: number[] = pairs.map(() => 0);
      for (const point of ERROR_POINTS) {
        const [months, following] = pair(reached([one.at, other.at, point.at]));
        let at = pairs.findIndex((known) => known.months === months && known.then === following);
        if (at < 0) at = pairs.push({ months, then: following }) - 1;
        row[at] = (row[at] ?? 0) + point.share;
      }
      shares.push(row);
    }
  }
  return { pairs, shares };
}

const REACH = Math.sqrt(3);

/** Standard deviations: of all sites, of the site, of the device. */
type Points = readonly [number, number, number];

/**
 * The highest that errors have been on their way, which grow month by month: a walk's highest value is distributed
 * as its last one without the sign. Of several together it is no higher than the sum.
 *
 * See Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter III, reflection principle.
 */
function highestOf([common, site, own]: Points): Points {
  return [Math.abs(common), Math.abs(site), Math.abs(own)];
}

/** Uses a month with the standard deviations of their logarithm. */
interface Uncertain {
  readonly mean: number;
  readonly spreads: Points;
}

function errorOf({ spreads }: Uncertain, points: Points): number {
  return spreads[0] * points[0] + spreads[1] * points[1] + spreads[2] * points[2];
}

/** Months by which an interval goes. */
const WINDOW = 3;

function asLong(
  mean: number | null,
  ahead: number,
  { common, own }: Pick<UseSpread, "common" | "own">,
): Uncertain | null {
  if (mean === null || !(mean > 0)) return null;
  const step = Math.min(common.length, Math.round(ahead)) - 1;
  // Two counts of three months, as far as they are not the same months.
  const apart = Math.min(WINDOW, ahead) / WINDOW;
  const counted = Math.sqrt((2 * apart) / (WINDOW * mean));
  return { mean, spreads: [common[step] ?? 0, own[step] ?? 0, counted] };
}
