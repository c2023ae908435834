import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { addMonths, daysInMonth, civilDate, type Day } from "../../core/day.ts";
import { ERROR_POINTS, type OpenIntervals, type OpenUnit } from "../../core/open-fleet.ts";
import { dueOn } from "../../core/schedule.ts";
import type { Series } from "../../core/smooth.ts";
import { spreadAhead, type Tried, triedAhead } from "../../core/spread.ts";
import { intervalAt } from "../answers/answers.ts";
import { percentText } from "../records/percent.ts";
import { settled } from "../records/curve.ts";
import type { YearUnit } from "./fleet.ts";
import type { Use, UseMonth } from "./site-use.ts";
import type { UseAhead } from "./use.ts";

/** How uncertain the usage forecast is each number of months ahead, the first being one month. */
export interface UseSpread {
  /** Of all sites together, and of each site besides, as standard deviations of the logarithm. */
  readonly common: readonly number[];
  readonly own: readonly number[];
  /** Too few counts to have tried a forecast over a year: the stated spread stands alone there. */
  readonly isStated: boolean;
}

/**
 * Spread of a year's usage where no forecast could be tried: of the programme and of one site. Own choice,
 * no source: births of a country move by one or two percent a year, those of one house by more.
 */
const STATED_SPREAD = { programme: 0.05, site: 0.1 };

/** Sites whose forecasts are tried. */
const TRIED_SITES = 12;

const YEAR = 12;

/** How uncertain usage ahead is, by what the forecasts of earlier months would have said. */
export function useSpread({ programme, sites }: UseAhead, months: number): UseSpread {
  const whole = triedAhead(perDay(programme), months);
  const common = spreadAhead([whole], STATED_SPREAD.programme);
  const counted = sites.filter(({ history }) => history.length > 0);
  const tried = counted
    .slice(0, TRIED_SITES)
    .map((site): Tried => triedAhead(perDay(site), months));
  const none: Tried = { squares: common.map(() => 0), tries: common.map(() => 0) };
  const alone = spreadAhead([none, ...tried], STATED_SPREAD.site);
  return {
    common,
    own: alone.map((spread, step) =>
      // A single site is the programme.
      counted.length === 1 ? 0 : Math.sqrt(Math.max(0, spread ** 2 - (common[step] ?? 0) ** 2)),
    ),
    isStated: (whole.tries[Math.min(YEAR, months) - 1] ?? 0) === 0,
  };
}

/** How uncertain usage is taken to be a year ahead, in words; "" where no site has counts. */
export function spreadText({ common, own, isStated }: UseSpread, { sites }: UseAhead): string {
  if (!sites.some(({ history }) => history.length > 0)) return "";
  const step = Math.min(YEAR, common.length) - 1;
  const percent = (spread: number | undefined): string => percentText(spread ?? 0, 1);
  const besides = own.some((spread) => spread > 0)
    ? ` and ${percent(own[step])} more of a site`
    : "";
  const why = isStated
    ? "stated, for the counts do not yet reach back two years"
    : "by what earlier forecasts would have missed";
  return `${percent(common[step])} of the programme${besides} (standard deviation ${step + 1} months ahead, ${why})`;
}

/** The same as a sentence. */
export function spreadSays(spread: UseSpread, use: UseAhead): string {
  const text = spreadText(spread, use);
  return text === "" ? "" : `Uncertainty of usage, in the limits: ${text}.`;
}

/** A history as uses a day in each month; null for a month without a complete count. */
function perDay({ history }: Use): Series {
  const [first] = history;
  const last = history.at(-1);
  if (first === undefined || last === undefined) return [];
  const byMonth = new Map(history.map((one: UseMonth) => [one.month, one.uses]));
  const series: (number | null)[] = [];
  for (let month = first.month; month <= last.month; month = addMonths(month, 1)) {
    const uses = byMonth.get(month);
    const { year, month: of } = civilDate(month);
    series.push(uses === undefined ? null : uses / daysInMonth(year, of));
  }
  return series;
}

/** The months looked at. */
interface Looked {
  readonly reportDate: Day;
  readonly months: readonly Day[];
  /**
   * Which usage an interval goes by: that of the month in which it ends, or the highest until then. Intervals are
   * looked at anew with every month's counts, and the first look by which a part is due makes it so.
   */
  readonly goesBy: "last" | "highest";
}

/**
 * A part with the intervals it may come to have: at each point of the error of all sites and of its own, over
 * what its own counts leave open, which are Poisson about what is expected.
 */
export function openUnit(unit: YearUnit, spread: UseSpread, looked: Looked): OpenUnit {
  return { ...settledUnit(unit, looked.months), ways: waysOf(unit, spread, looked) };
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
