import { mixedMoments, type Moments } from "./moments.ts";
import { ERROR_POINTS, type Group } from "./open-fleet.ts";

/** Of the number of each case its mean, and the mean of its square. */
export interface CaseMoments {
  readonly means: Float64Array;
  readonly squares: Float64Array;
}

/**
 * Means, and means of squares, of the numbers of cases.
 *
 * @param counts Chances of 0, 1, 2, … of each case.
 * @returns One of each a case.
 * @example
 * Array.from(caseMoments([Float64Array.of(0.5, 0, 0.5)]).squares) // => [2]
 */
export function caseMoments(counts: readonly Float64Array[]): CaseMoments {
  const [means, squares] = [new Float64Array(counts.length), new Float64Array(counts.length)];
  counts.forEach((chances, at) => {
    let [once, twice] = [0, 0];
    for (let count = 1; count < chances.length; count += 1) {
      const chance = chances[count] ?? 0;
      once += count * chance;
      twice += count * count * chance;
    }
    means[at] = once;
    squares[at] = twice;
  });
  return { means, squares };
}

/** Which cases the parts of a group may be at a pair of points, one part after another, without those of no chance. */
interface Rows {
  /** Where each part's cases begin; one more than parts. */
  readonly starts: Int32Array;
  readonly cases: Int32Array;
  readonly shares: Float64Array;
}

const PAIRS = ERROR_POINTS.length ** 2;

const known = new WeakMap<Group, Rows[]>();

// The same in every span and state of wear: gathered once.
function rowsOf(group: Group, pair: number): Rows | undefined {
  const all = known.get(group) ?? Array.from({ length: PAIRS }, (_, at) => gathered(group, at));
  known.set(group, all);
  return all[pair];
}

function gathered({ members }: Group, pair: number): Rows {
  const starts = new Int32Array(members.length + 1);
  const cases: number[] = [];
  const shares: number[] = [];
  members.forEach((member, at) => {
    const row = member.shares?.[pair];
    member.cases.forEach((one, which) => {
      const share = row === undefined ? (which === 0 ? 1 : 0) : (row[which] ?? 0);
      if (share === 0) return;
      cases.push(one);
      shares.push(share);
    });
    starts[at + 1] = cases.length;
  });
  return { starts, cases: Int32Array.from(cases), shares: Float64Array.from(shares) };
}

/** Numbers of a point of the error common to all and of one of a group's own. */
export type PointPair = readonly [common: number, own: number];

/**
 * Mean and variance of the number of a group at a pair of points: of its parts, each mixed over what is open for
 * itself, added up.
 *
 * @param group Its parts.
 * @param points Numbers of the points.
 * @param moments Of the fleet's cases.
 * @returns Mean and variance.
 * @example
 * memberSums({ members: [], own: [{ share: 1 }] }, [0, 0], caseMoments([])) // => { mean: 0, variance: 0 }
 */
export function memberSums(group: Group, points: PointPair, moments: CaseMoments): Moments {
  const [point, own] = points;
  const { means, squares } = moments;
  const rows = rowsOf(group, point * ERROR_POINTS.length + own);
  let sum = 0;
  let variance = 0;
  if (rows === undefined) return { mean: sum, variance };
  const { starts, cases, shares } = rows;
  // Written out, for it is the innermost of a large fleet.
  let from = 0;
  for (let member = 1; member < starts.length; member += 1) {
    const to = starts[member] ?? 0;
    let once = 0;
    let twice = 0;
    for (let at = from; at < to; at += 1) {
      const one = cases[at] ?? 0;
      const share = shares[at] ?? 0;
      once += share * (means[one] ?? 0);
      twice += share * (squares[one] ?? 0);
    }
    sum += once;
    variance += Math.max(0, twice - once * once);
    from = to;
  }
  return { mean: sum, variance };
}

/**
 * Mean and variance of the number of a group at a common point, mixed over the points of its own error.
 *
 * @param group Its parts.
 * @param point Number of the common point.
 * @param moments Of the fleet's cases.
 * @returns Mean and variance.
 * @example
 * groupMoments({ members: [], own: [{ share: 1 }] }, 0, caseMoments([])) // => { mean: 0, variance: 0 }
 */
export function groupMoments(group: Group, point: number, moments: CaseMoments): Moments {
  const { own } = group;
  const sums = own.map((_, nth) => memberSums(group, [point, nth], moments));
  return mixedMoments(sums, (at) => own[at]?.share ?? 0);
}
