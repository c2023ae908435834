import { DAYS_PER_MONTH } from "../../core/counts.ts";
import type { Day } from "../../core/day.ts";
import {
  ERROR_POINTS,
  type OpenInterval,
  type OpenIntervals,
  type OpenUnit,
} from "../../core/open-fleet.ts";
import { dueOn } from "../../core/schedule.ts";
import { intervalAt } from "../answers/answers.ts";
import { settled } from "../records/curve.ts";
import { remembering } from "../records/remembering.ts";
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
  // Few parts differ in which points make which of their intervals.
  const sharesOf = remembering((pattern: string) => sharesBy(pattern, goesBy));
  return units.map((unit) => ({
    ...settledUnit(unit, months),
    ways: waysOf(unit, { spread, looked, sharesOf }),
  }));
}

/** A part with the intervals of the register. */
export function settledUnit(unit: YearUnit, ahead: readonly Day[]): OpenUnit {
  const { lastDone, months, then, site, until } = unit;
  const left = until === null ? -1 : ahead.findIndex((month) => month > until);
  const last = left < 0 ? ahead.length - 1 : left - 1;
  return { lastDone, months, then, group: site, last, ways: null };
}

interface Looking {
  readonly spread: UseSpread;
  readonly looked: Looked;
  readonly sharesOf: (pattern: string) => OpenIntervals["shares"];
}

function waysOf(unit: YearUnit, { spread, looked, sharesOf }: Looking): OpenIntervals | null {
  const { goesBy, part, dueAtOnce } = unit;
  if (goesBy === null) return null;
  const { now, then, wipes, most: longest } = goesBy;
  const known = settled(part);
  const due = dueOn(unit.lastDone, unit.months, {});
  const untilDue = Math.max(0, (due - looked.reportDate) / DAYS_PER_MONTH);
  // What is due is decided; what follows goes by the uses before it is due in its turn.
  const looks = looked.goesBy === "highest" ? Math.ceil(untilDue) : untilDue;
  const first = dueAtOnce ? null : asLong(now, looks, spread);
  const second = asLong(then, looks + unit.then, spread);
  const monthsBy = (uses: Uncertain | null, usual: number): ((points: Points) => number) => {
    if (uses === null) return () => usual;
    const at = (points: Points): number =>
      intervalAt(known, uses.mean * Math.exp(errorOf(uses, points)), wipes, longest);
    const [most, least] = [at(MOST), at(LEAST)];
    // More uses never mean a longer interval: what both ends have, all between them have.
    return most === least ? () => most : at;
  };
  const [firstBy, secondBy] = [monthsBy(first, unit.months), monthsBy(second, unit.then)];
  const stands = [MOST, LEAST].every(
    (points) => firstBy(points) === unit.months && secondBy(points) === unit.then,
  );
  if (stands) return null;
  const pairs: OpenInterval[] = [];
  let pattern = "";
  for (const points of LOOKED[looked.goesBy].distinct) {
    const isUsual = points === MIDDLE;
    const months = isUsual ? unit.months : firstBy(points);
    const following = isUsual ? unit.then : secondBy(points);
    let at = 0;
    while (at < pairs.length && !(pairs[at]?.months === months && pairs[at]?.then === following))
      at += 1;
    if (at === pairs.length) pairs.push({ months, then: following });
    pattern += String.fromCharCode(at);
  }
  return { pairs, shares: sharesOf(pattern) };
}

/** Chances of the intervals at each of the nine points that parts share: the pattern has which one each point makes. */
function sharesBy(pattern: string, goesBy: Looked["goesBy"]): OpenIntervals["shares"] {
  const { nth } = LOOKED[goesBy];
  const each = ERROR_POINTS.length;
  return Array.from({ length: nth.length / each }, (_, row) => {
    const shares: number[] = [];
    ERROR_POINTS.forEach(({ share }, point) => {
      const at = pattern.charCodeAt(nth[row * each + point] ?? 0);
      while (shares.length <= at) shares.push(0);
      shares[at] = (shares[at] ?? 0) + share;
    });
    return shares;
  });
}

const REACH = Math.sqrt(3);

/** Standard deviations: of all sites, of the site, of the device. */
type Points = readonly [number, number, number];

const MOST: Points = [REACH, REACH, REACH];
const LEAST: Points = [-REACH, -REACH, -REACH];
const MIDDLE: Points = [0, 0, 0];

/**
 * The highest that errors have been on their way, which grow month by month: a walk's highest value is distributed
 * as its last one without the sign. Of several together it is no higher than the sum.
 *
 * See Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter III, reflection principle.
 */
function highestOf([common, site, own]: Points): Points {
  return [Math.abs(common), Math.abs(site), Math.abs(own)];
}

/** The different points that are looked at, and which of them each of all is. */
interface Looks {
  readonly distinct: readonly Points[];
  readonly nth: readonly number[];
}

const LOOKED: Readonly<Record<Looked["goesBy"], Looks>> = {
  last: pointsAs((points) => points),
  highest: pointsAs(highestOf),
};

function pointsAs(reached: (points: Points) => Points): Looks {
  const distinct: Points[] = [];
  const nth = ERROR_POINTS.flatMap((common) =>
    ERROR_POINTS.flatMap((site) =>
      ERROR_POINTS.map((own) => {
        const points = reached([common.at, site.at, own.at]);
        const at = distinct.findIndex((one) => one.every((value, axis) => value === points[axis]));
        const isMiddle = points.every((value) => value === 0);
        return at < 0 ? distinct.push(isMiddle ? MIDDLE : points) - 1 : at;
      }),
    ),
  );
  return { distinct, nth };
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
