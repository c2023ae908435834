import { countDistribution } from "./count-distribution.ts";
import { convolution, type Distribution, mixtureOf, sumOf } from "./distribution.ts";
import { addedUp, type Moments, normalOf } from "./moments.ts";
import { ERROR_POINTS, type Fleet, type Group, inUse, type Member } from "./open-fleet.ts";
import type { MomentTable, PointPair, Sums } from "./open-moments.ts";
import type { WearState } from "./open-states.ts";
import type { LookAhead, MonthSpan } from "./schedule.ts";

/** Parts up to which numbers are added up chance by chance; of more the mean and the variance are. */
export const EXACT = 100;

const NONE = Float64Array.of(1);

/** A state of wear and a span, with the means and variances of all of them and which column is theirs. */
export interface Sought {
  readonly state: WearState;
  readonly span: MonthSpan;
  readonly ahead: LookAhead;
  readonly table: MomentTable;
  readonly column: number;
}

/** What is known of every case in a state of wear and a span. */
export interface Found extends Sought {
  /** Chances of each number; worked out when first asked for, since many parts do without. */
  readonly counts: () => readonly Float64Array[];
}

/**
 * What is known of every case of a fleet in a state of wear and a span.
 *
 * @param fleet The fleet.
 * @param sought State and span.
 * @returns Chances, when asked for.
 * @example
 * ((fleet, ahead) => foundIn(fleet, { state: statesOf(ahead, null)[0], span: [0, 12], ahead, column: 0 }).counts().map((one) => one.length))(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), { from: day("2026-04-01"), horizon: 12 }) // => [5]
 */
export function foundIn(fleet: Fleet, sought: Sought): Found {
  const { state, span } = sought;
  let known: readonly Float64Array[] | null = null;
  const counted = (): Float64Array[] =>
    fleet.cases.map(({ unit, last }) => {
      const until = Math.min(span[1], last);
      return span[0] > until ? NONE : state.counts(unit, [span[0], until]);
    });
  return { ...sought, counts: () => (known ??= counted()) };
}

/**
 * The number of all groups at a point of the error common to all.
 *
 * @param fleet The fleet.
 * @param point Number of the point.
 * @param found What is known of its cases.
 * @returns Chances.
 * @example
 * ((fleet, ahead) => fleetCount(fleet, 0, foundIn(fleet, { state: statesOf(ahead, null)[0], span: [0, 12], ahead, column: 0 })).least)(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), { from: day("2026-04-01"), horizon: 12 }) // => 4
 */
export function fleetCount(fleet: Fleet, point: number, found: Found): Distribution {
  const { groups, size } = fleet;
  const all = [...groups.values()];
  if (size <= EXACT) return sumOf(all.map((group) => groupCount(group, point, found)));
  const mean = all.reduce((sum, group) => sum + earlyIn(group, found), 0);
  return normalOf([columnOf(found.table.fleet(point), found), { mean, variance: mean }]);
}

/**
 * The number of a group at a common point, mixed over the points of its own error.
 *
 * @param group Its parts.
 * @param point Number of the common point.
 * @param found What is known of the fleet's cases.
 * @returns Chances.
 * @example
 * ((fleet, ahead) => groupCount(fleet.groups.get(""), 0, foundIn(fleet, { state: statesOf(ahead, null)[0], span: [0, 12], ahead, column: 0 })).least)(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), { from: day("2026-04-01"), horizon: 12 }) // => 4
 */
export function groupCount(group: Group, point: number, found: Found): Distribution {
  const { members, own: points } = group;
  const mixed = mixtureOf(
    points.map(({ share }, own) => ({
      share,
      distribution:
        members.length > EXACT
          ? normalOf([columnOf(found.table.members(group, [point, own]), found)])
          : membersCount(members, [point, own], found.counts()),
    })),
  );
  const mean = earlyIn(group, found);
  return mean === 0 ? mixed : convolution(mixed, countDistribution({ mean }));
}

function columnOf({ means, variances }: Sums, { column }: Found): Moments {
  return { mean: means[column] ?? 0, variance: variances[column] ?? 0 };
}

// Failures of a group besides what its parts count.
function earlyIn({ members }: Group, { state, span, ahead }: Found): number {
  if (state.rate === 0) return 0;
  const units = members.map(({ open }) => open);
  return state.rate * inUse(units, span, ahead);
}

// The numbers of parts, each mixed over what is open for itself, added up. Written out, for it is the innermost of a
// small fleet.
function membersCount(
  members: readonly Member[],
  [point, own]: PointPair,
  counts: readonly Float64Array[],
): Distribution {
  const nth = point * ERROR_POINTS.length + own;
  let widest = 1;
  for (const { cases } of members) {
    for (const one of cases) widest = Math.max(widest, (counts[one] ?? NONE).length);
  }
  return addedUp({
    size: members.length,
    widest,
    write: (at, row) => {
      const member = members[at];
      if (member === undefined) return 0;
      const { cases, shares } = member;
      const chances = shares === null ? null : shares[nth];
      let size = 0;
      for (let which = 0; which < cases.length; which += 1) {
        const share = chances === null ? 1 : (chances?.[which] ?? 0);
        if (share === 0) continue;
        const one = counts[cases[which] ?? 0] ?? NONE;
        for (; size < one.length; size += 1) row[size] = 0;
        for (let count = 0; count < one.length; count += 1) {
          row[count] = (row[count] ?? 0) + share * (one[count] ?? 0);
        }
      }
      return size;
    },
  });
}
