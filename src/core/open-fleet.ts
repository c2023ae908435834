import { DAYS_PER_MONTH } from "./counts.ts";
import { aheadMonths, type LookAhead, type MonthSpan, type Unit } from "./schedule.ts";

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
   * nine rows, in that order. What a row does not reach has no chance.
   */
  readonly shares: readonly ArrayLike<number>[];
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

/** The only point of an error there is not. */
export const CERTAIN = [{ share: 1 }];

/** A unit as it may be, and the last month it counts in: what several have in common is worked out once. */
export interface Case {
  readonly unit: Required<Unit>;
  readonly last: number;
}

/** A unit by its cases, with the chance of each at every point. */
export interface Member {
  readonly open: OpenUnit;
  readonly cases: readonly number[];
  readonly shares: readonly ArrayLike<number>[] | null;
}

/** The parts of a group. */
export interface Group {
  readonly members: readonly Member[];
  /** Points of the group's own error; one where nothing of it is open. */
  readonly own: readonly { readonly share: number }[];
}

/** Parts in use by group. */
export interface Fleet {
  readonly cases: readonly Case[];
  readonly groups: ReadonlyMap<string, Group>;
  /** Points of the error common to all; one where nothing is open. */
  readonly common: readonly { readonly share: number }[];
  readonly size: number;
}

const fleets = new WeakMap<readonly OpenUnit[], Fleet>();

/**
 * Parts in use by group, with what they may be told once. Of the same parts it is made once.
 *
 * @param units Parts in use.
 * @returns The fleet.
 * @example
 * fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]).size // => 1
 */
export function fleetOf(units: readonly OpenUnit[]): Fleet {
  const fleet = fleets.get(units) ?? grouped(units);
  fleets.set(units, fleet);
  return fleet;
}

function grouped(units: readonly OpenUnit[]): Fleet {
  const cases: Case[] = [];
  const numbers = new Map<string, number>();
  const caseOf = ({ lastDone, last }: OpenUnit, { months, then }: OpenInterval): number => {
    const key = `${lastDone} ${months} ${then} ${last}`;
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, cases.length);
    return cases.push({ unit: { lastDone, months, then }, last }) - 1;
  };
  const byGroup = new Map<string, Member[]>();
  for (const open of units) {
    const { months, then = months, ways } = open;
    const pairs = ways?.pairs ?? [{ months, then }];
    const member: Member = {
      open,
      cases: pairs.map((pair) => caseOf(open, pair)),
      shares: ways?.shares ?? null,
    };
    const members = byGroup.get(open.group);
    if (members === undefined) byGroup.set(open.group, [member]);
    else members.push(member);
  }
  const pointsOf = (members: readonly Member[]): Group["own"] =>
    members.some(({ shares }) => shares !== null) ? ERROR_POINTS : CERTAIN;
  const groups = new Map(
    [...byGroup].map(([group, members]) => [group, { members, own: pointsOf(members) }]),
  );
  const common = units.some(({ ways }) => ways !== null) ? ERROR_POINTS : CERTAIN;
  return { cases, groups, common, size: units.length };
}

/**
 * The case that is certain at a point, where one is.
 *
 * @param shares Chances of the cases.
 * @returns Its place; -1 where several have a chance.
 * @example
 * [onlyCase([0, 1]), onlyCase([0.5, 0.5])] // => [1, -1]
 */
export function onlyCase(shares: ArrayLike<number>): number {
  for (let at = 0; at < shares.length; at += 1) {
    // A sum of shares may miss 1 by its last digits.
    if (Math.abs((shares[at] ?? 0) - 1) < 1e-12) return at;
  }
  return -1;
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
  const upTo = monthsUpTo(ahead);
  let sum = 0;
  for (const unit of units) {
    const end = Math.min(last, unit.last);
    if (end >= first) sum += (upTo[end + 1] ?? 0) - (upTo[first] ?? 0);
  }
  return sum;
}

const monthsKnown = new WeakMap<LookAhead, readonly number[]>();

// Months up to the beginning of each month ahead; asked for again and again.
function monthsUpTo(ahead: LookAhead): readonly number[] {
  const upTo = monthsKnown.get(ahead);
  if (upTo !== undefined) return upTo;
  const made: number[] = [0];
  for (const { after, until } of aheadMonths(ahead)) {
    made.push((made.at(-1) ?? 0) + (until - after) / DAYS_PER_MONTH);
  }
  monthsKnown.set(ahead, made);
  return made;
}
