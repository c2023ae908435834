import { countDistribution } from "./count-distribution.ts";
import { convolution, type Distribution, mixtureOf, sumOf } from "./distribution.ts";
import { addedUp, type Moments, normalOf, summed } from "./moments.ts";
import { ERROR_POINTS, type Fleet, type Group, inUse, type Member } from "./open-fleet.ts";
import { type CaseMoments, caseMoments, groupMoments, memberSums } from "./open-moments.ts";
import type { WearState } from "./open-states.ts";
import type { LookAhead, MonthSpan } from "./schedule.ts";

/** Parts up to which numbers are added up chance by chance; of more the mean and the variance are. */
export const EXACT = 250;

const NONE = Float64Array.of(1);

/** What is known of every case in a state of wear and a span. */
export interface Found {
  readonly counts: readonly Float64Array[];
  /** Worked out when first asked for: few parts do without. */
  readonly moments: () => CaseMoments;
  readonly state: WearState;
  readonly span: MonthSpan;
  readonly ahead: LookAhead;
}

/**
 * What is known of every case of a fleet in a state of wear and a span.
 *
 * @param fleet The fleet.
 * @param asked State, span and time ahead.
 * @returns Chances, and moments when asked for.
 * @example
 * foundIn(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), { state: statesOf({ from: day("2026-04-01"), horizon: 12 }, null)[0], span: [0, 12], ahead: { from: day("2026-04-01"), horizon: 12 } }).counts.map((one) => one.length) // => [5]
 */
export function foundIn(fleet: Fleet, asked: Pick<Found, "state" | "span" | "ahead">): Found {
  const { cases } = fleet;
  const { state, span, ahead } = asked;
  const counts = cases.map(({ unit, last }) => {
    const until = Math.min(span[1], last);
    return span[0] > until ? NONE : state.counts(unit, [span[0], until]);
  });
  let moments: CaseMoments | null = null;
  return { counts, moments: () => (moments ??= caseMoments(counts)), span, ahead, state };
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
    ? normalOf(all.map((group) => allMoments(group, point, found)))
    : sumOf(all.map((group) => groupCount(group, point, found)));
}

/**
 * The number of a group at a common point, mixed over the points of its own error.
 *
 * @param group Its parts.
 * @param point Number of the common point.
 * @param found What is known of the fleet's cases.
 * @returns Chances.
 * @example
 * groupCount({ members: [], own: [{ share: 1 }] }, 0, foundIn(fleetOf([]), { state: statesOf({ from: day("2026-04-01"), horizon: 12 }, null)[0], span: [0, 12], ahead: { from: day("2026-04-01"), horizon: 12 } })).least // => 0
 */
export function groupCount(group: Group, point: number, found: Found): Distribution {
  const { members, own: points } = group;
  const { counts } = found;
  const mixed = mixtureOf(
    points.map(({ share }, own) => ({
      share,
      distribution:
        members.length > EXACT
          ? normalOf([memberSums(group, [point, own], found.moments())])
          : addedUp(members.map((member) => memberCount(member, [point, own], counts))),
    })),
  );
  const mean = earlyIn(group, found);
  return mean === 0 ? mixed : convolution(mixed, countDistribution({ mean }));
}

// The same as mean and variance.
function allMoments(group: Group, point: number, found: Found): Moments {
  const mean = earlyIn(group, found);
  const mixed = groupMoments(group, point, found.moments());
  return mean === 0 ? mixed : summed([mixed, { mean, variance: mean }]);
}

// Failures of a group besides what its parts count.
function earlyIn({ members }: Group, { state, span, ahead }: Found): number {
  if (state.rate === 0) return 0;
  const units = members.map(({ open }) => open);
  return state.rate * inUse(units, span, ahead);
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
