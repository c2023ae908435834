import { gammaQuantile } from "./chance.ts";
import { countDistribution } from "./count-distribution.ts";
import { DAYS_PER_MONTH } from "./counts.ts";
import { convolution, type Distribution, mixtureOf, sumOf } from "./distribution.ts";
import { wearing } from "./grid.ts";
import { type FailureCount, jeffreysRate, possibleLives } from "./life.ts";
import { addedUp, mixedMoments, type Moments, momentsOf, normalOf, summed } from "./moments.ts";
import type { Wear } from "./need.ts";
import {
  aheadMonths,
  type LookAhead,
  type MonthSpan,
  scheduledDays,
  type Unit,
} from "./schedule.ts";

/** The running interval a part may have, and the one of those that follow. */
export interface OpenInterval {
  readonly months: number;
  readonly then: number;
}

/** Intervals a part may have, and their chances. */
export interface OpenIntervals {
  readonly pairs: readonly OpenInterval[];
  /**
   * The chance of each pair at each of three points common to all, times three points of the part's group:
   * nine rows, in that order.
   */
  readonly shares: readonly Float64Array[];
}

/** A part whose intervals depend on what is not known yet. */
export interface OpenUnit extends Unit {
  /** What it shares with others, such as its site. */
  readonly group: string;
  /** Number of the last month in which it is in use. */
  readonly last: number;
  /** The intervals it may have; null where they are those of the unit. */
  readonly ways: OpenIntervals | null;
}

/** Three points that stand for a normal error, in standard deviations, and their shares. */
export const ERROR_POINTS = [
  { at: -Math.sqrt(3), share: 1 / 6 },
  { at: 0, share: 2 / 3 },
  { at: Math.sqrt(3), share: 1 / 6 },
] as const;

/** Parts up to which numbers are added up chance by chance; of more the mean and the variance are. */
export const EXACT = 250;

/** Chances of each number of replacements of a part in a span. */
export type Counter = (unit: Unit, span: MonthSpan) => Float64Array;

/** A state of wear that may be the true one. */
export interface WearState {
  readonly share: number;
  readonly counts: Counter;
  /** Failures a month of a part besides what it counts. */
  readonly rate: number;
}

const NONE = Float64Array.of(1);

/** A unit as it may be, and the last month it counts in: what several have in common is worked out once. */
export interface Case {
  readonly unit: Required<Unit>;
  readonly last: number;
}

/** A unit by its cases, with the chance of each at every point. */
export interface Member {
  readonly open: OpenUnit;
  readonly cases: readonly number[];
  readonly shares: readonly Float64Array[] | null;
}

export interface Fleet {
  readonly cases: readonly Case[];
  readonly groups: ReadonlyMap<string, readonly Member[]>;
  /** Points of the error common to all, and of that of each group; one where nothing is open. */
  readonly common: readonly { readonly share: number }[];
  readonly size: number;
}

/**
 * Parts in use by group, with what they may be told once.
 *
 * @param units Parts in use.
 * @returns The fleet.
 * @example
 * fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]).size // => 1
 */
export function fleetOf(units: readonly OpenUnit[]): Fleet {
  const cases: Case[] = [];
  const numbers = new Map<string, number>();
  const caseOf = ({ lastDone, last }: OpenUnit, { months, then }: OpenInterval): number => {
    const key = `${lastDone} ${months} ${then} ${last}`;
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, cases.length);
    return cases.push({ unit: { lastDone, months, then }, last }) - 1;
  };
  const groups = new Map<string, Member[]>();
  for (const open of units) {
    const { months, then = months, ways } = open;
    const pairs = ways?.pairs ?? [{ months, then }];
    const member: Member = {
      open,
      cases: pairs.map((pair) => caseOf(open, pair)),
      shares: ways?.shares ?? null,
    };
    const members = groups.get(open.group);
    if (members === undefined) groups.set(open.group, [member]);
    else members.push(member);
  }
  const common = units.some(({ ways }) => ways !== null) ? ERROR_POINTS : CERTAIN;
  return { cases, groups, common, size: units.length };
}

const CERTAIN = [{ share: 1 }];

/** What is known of every case in a state of wear and a span. */
export interface Found {
  readonly counts: readonly Float64Array[];
  readonly moments: readonly Moments[];
  readonly state: WearState;
  readonly span: MonthSpan;
  readonly ahead: LookAhead;
}

/**
 * What is known of every case of a fleet in a state of wear and a span.
 *
 * @param fleet The fleet.
 * @param asked State, span and time ahead.
 * @returns Chances and moments.
 * @example
 * foundIn(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), { state: statesOf({ from: day("2026-04-01"), horizon: 12 }, null)[0], span: [0, 12], ahead: { from: day("2026-04-01"), horizon: 12 } }).moments // => [{ mean: 4, variance: 0 }]
 */
export function foundIn(fleet: Fleet, asked: Pick<Found, "state" | "span" | "ahead">): Found {
  const { cases } = fleet;
  const { state, span, ahead } = asked;
  const counts = cases.map(({ unit, last }) => {
    const until = Math.min(span[1], last);
    return span[0] > until ? NONE : state.counts(unit, [span[0], until]);
  });
  return { counts, moments: counts.map(momentsOf), span, ahead, state };
}

/**
 * The number of all groups at a point of the error common to all.
 *
 * @param fleet The fleet.
 * @param point Number of the point.
 * @param found What is known of its cases.
 * @returns Chances.
 * @example
 * fleetCount(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), 0, foundIn(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), { state: statesOf({ from: day("2026-04-01"), horizon: 12 }, null)[0], span: [0, 12], ahead: { from: day("2026-04-01"), horizon: 12 } })).least // => 4
 */
export function fleetCount(fleet: Fleet, point: number, found: Found): Distribution {
  const { groups, size } = fleet;
  const all = [...groups.values()];
  return size > EXACT
    ? normalOf(all.map((members) => groupMoments(members, point, found)))
    : sumOf(all.map((members) => groupCount(members, point, found)));
}

// Points of a group's own error; one where nothing of it is open.
function ownPoints(members: readonly Member[]): readonly { readonly share: number }[] {
  return members.some(({ shares }) => shares !== null) ? ERROR_POINTS : CERTAIN;
}

/**
 * The number of a group at a common point, mixed over the points of its own error.
 *
 * @param members Its parts.
 * @param point Number of the common point.
 * @param found What is known of the fleet's cases.
 * @returns Chances.
 * @example
 * groupCount([], 0, foundIn(fleetOf([]), { state: statesOf({ from: day("2026-04-01"), horizon: 12 }, null)[0], span: [0, 12], ahead: { from: day("2026-04-01"), horizon: 12 } })).least // => 0
 */
export function groupCount(members: readonly Member[], point: number, found: Found): Distribution {
  const { counts, state, span, ahead } = found;
  const mixed = mixtureOf(
    ownPoints(members).map(({ share }, own) => ({
      share,
      distribution:
        members.length > EXACT
          ? normalOf(members.map((member) => memberMoments(member, [point, own], found)))
          : addedUp(members.map((member) => memberCount(member, [point, own], counts))),
    })),
  );
  if (state.rate === 0) return mixed;
  const mean =
    state.rate *
    inUse(
      members.map(({ open }) => open),
      span,
      ahead,
    );
  return convolution(mixed, countDistribution({ mean }));
}

type PointPair = readonly [common: number, own: number];

// A part's number, mixed over what is open for itself.
function memberCount(
  { cases, shares }: Member,
  [point, own]: PointPair,
  counts: readonly Float64Array[],
): Float64Array {
  const chances = shares?.[point * ERROR_POINTS.length + own];
  if (chances === undefined) return counts[cases[0] ?? 0] ?? NONE;
  const all = cases.map((at) => counts[at] ?? NONE);
  const mixed = new Float64Array(all.reduce((most, { length }) => Math.max(most, length), 0));
  all.forEach((one, at) => {
    const share = chances[at] ?? 0;
    if (share === 0) return;
    for (let count = 0; count < one.length; count += 1) {
      mixed[count] = (mixed[count] ?? 0) + share * (one[count] ?? 0);
    }
  });
  return mixed;
}

function memberMoments({ cases, shares }: Member, [point, own]: PointPair, found: Found): Moments {
  const chances = shares?.[point * ERROR_POINTS.length + own];
  const all = cases.map((at) => found.moments[at] ?? { mean: 0, variance: 0 });
  return mixedMoments(all, (at) => (chances === undefined ? 1 : (chances[at] ?? 0)));
}

function groupMoments(members: readonly Member[], point: number, found: Found): Moments {
  const own = ownPoints(members);
  const sums = own.map((_, nth) =>
    summed(members.map((one) => memberMoments(one, [point, nth], found))),
  );
  const mixed = mixedMoments(sums, (at) => own[at]?.share ?? 0);
  const { state, span, ahead } = found;
  if (state.rate === 0) return mixed;
  const early =
    state.rate *
    inUse(
      members.map(({ open }) => open),
      span,
      ahead,
    );
  return summed([mixed, { mean: early, variance: early }]);
}

/**
 * The states of wear that may be the true one.
 *
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @returns States; their shares sum to 1.
 * @example
 * statesOf({ from: day("2026-04-01"), horizon: 12 }, null).length // => 1
 */
export function statesOf(ahead: LookAhead, wear: Wear): WearState[] {
  if (wear !== null && "shape" in wear) {
    const lives = possibleLives(wear);
    return wearing(
      ahead,
      lives.map(({ life }) => life),
    ).map(({ counts }, at) => ({ share: lives[at]?.share ?? 0, rate: 0, counts }));
  }
  const counts = scheduledCounter(ahead);
  if (wear === null) return [{ share: 1, rate: 0, counts }];
  // Groups share the rate nobody knows: each of its possible values is one state.
  return possibleRates(wear).map((rate) => ({ share: 1 / RATES, rate, counts }));
}

/** Equally likely values that stand for a rate of which few failures are known. */
const RATES = 8;

function possibleRates(wear: FailureCount): number[] {
  const rates = Array.from({ length: RATES }, (_, at) =>
    gammaQuantile((at + 0.5) / RATES, wear.failures + 0.5),
  );
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / RATES;
  return rates.map((rate) => (rate / mean) * jeffreysRate(wear));
}

// A schedule has one number, which is certain.
function scheduledCounter(ahead: LookAhead): Counter {
  const months = aheadMonths(ahead);
  const end = months.at(-1)?.until ?? ahead.from;
  const known = new Map<Unit, readonly number[]>();
  return (unit, [first, last]) => {
    const days = known.get(unit) ?? scheduledDays(unit, ahead.from, end, ahead.calendar);
    known.set(unit, days);
    const after = first === 0 ? ahead.from - 1 : (months[first]?.after ?? end);
    const until = months[last]?.until ?? end;
    const count = days.filter((day) => day > after && day <= until).length;
    const chances = new Float64Array(count + 1);
    chances[count] = 1;
    return chances;
  };
}

/**
 * Months of 30.436875 days that parts are in use in a span, added up.
 *
 * @param units Parts in use.
 * @param span The months.
 * @param ahead The time ahead.
 * @returns Months.
 * @example
 * inUse([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }], [0, 12], { from: day("2026-04-01"), horizon: 12 }).toFixed(2) // => "11.99"
 */
export function inUse(units: readonly OpenUnit[], span: MonthSpan, ahead: LookAhead): number {
  const [first, last] = span;
  const upTo: number[] = [0];
  for (const { after, until } of aheadMonths(ahead)) {
    upTo.push((upTo.at(-1) ?? 0) + (until - after) / DAYS_PER_MONTH);
  }
  return units.reduce((sum, unit) => {
    const end = Math.min(last, unit.last);
    return end < first ? sum : sum + (upTo[end + 1] ?? 0) - (upTo[first] ?? 0);
  }, 0);
}
