import { ERROR_POINTS, type Fleet, type Group, onlyCase } from "./open-fleet.ts";
import type { WearState } from "./open-states.ts";
import type { MonthSpan } from "./schedule.ts";

/** Means and variances of numbers, one of each a column. */
export interface Sums {
  readonly means: Float64Array;
  readonly variances: Float64Array;
}

/** Numbers of a point of the error common to all and of one of a group's own. */
export type PointPair = readonly [common: number, own: number];

/**
 * Means and variances of a fleet that is too large for chances, a column for each state of wear and span: the spans
 * of the first state, then those of the next. Worked out when first asked for, all columns at once.
 */
export interface MomentTable {
  /** Of a group's parts at a pair of points: of each mixed over what is open for itself, added up. */
  readonly members: (group: Group, points: PointPair) => Sums;
  /** Of a group at a common point, mixed over the points of its own error. */
  readonly group: (group: Group, point: number) => Sums;
  /** Of all groups at a common point. */
  readonly fleet: (point: number) => Sums;
}

/**
 * Means and variances of the numbers of a fleet and its groups.
 *
 * @param fleet The fleet.
 * @param states States of wear.
 * @param spans Months counted together.
 * @returns What may be asked.
 * @see Ross, Introduction to Probability Models, conditional variance formula (from memory), for the mixing.
 * @example
 * Array.from(momentTable(fleetOf([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }]), statesOf({ from: day("2026-04-01"), horizon: 12 }, null), [[0, 12]]).fleet(0).means) // => [4]
 */
export function momentTable(
  fleet: Fleet,
  states: readonly WearState[],
  spans: readonly MonthSpan[],
): MomentTable {
  const columns = states.length * spans.length;
  let known: Known | null = null;
  const fleetAt = new Map<number, Sums>();
  const asked = (): Known =>
    (known ??= {
      ...{ cases: caseMoments(fleet, states, spans), columns },
      ...{ once: new Float64Array(columns), twice: new Float64Array(columns) },
    });
  const fleetSums = (point: number): Sums => {
    const sums = noSums(columns);
    for (const group of fleet.groups.values()) {
      addTo(sums, groupSums(group, point, asked()));
    }
    return sums;
  };
  return {
    members: (group, points) => memberSums(group, points, asked()),
    group: (group, point) => groupSums(group, point, asked()),
    fleet: (point) => {
      const sums = fleetAt.get(point) ?? fleetSums(point);
      fleetAt.set(point, sums);
      return sums;
    },
  };
}

/** Moments of all cases, and rows that are used again and again. */
interface Known {
  readonly cases: CaseMoments;
  readonly columns: number;
  readonly once: Float64Array;
  readonly twice: Float64Array;
}

function noSums(columns: number): Sums {
  return { means: new Float64Array(columns), variances: new Float64Array(columns) };
}

function addTo({ means, variances }: Sums, part: Sums): void {
  for (let at = 0; at < means.length; at += 1) {
    means[at] = (means[at] ?? 0) + (part.means[at] ?? 0);
    variances[at] = (variances[at] ?? 0) + (part.variances[at] ?? 0);
  }
}

function groupSums(group: Group, point: number, known: Known): Sums {
  const { means, variances } = noSums(known.columns);
  group.own.forEach(({ share }, nth) => {
    const sums = memberSums(group, [point, nth], known);
    for (let at = 0; at < means.length; at += 1) {
      const mean = sums.means[at] ?? 0;
      means[at] = (means[at] ?? 0) + share * mean;
      variances[at] = (variances[at] ?? 0) + share * ((sums.variances[at] ?? 0) + mean * mean);
    }
  });
  for (let at = 0; at < means.length; at += 1) {
    variances[at] = Math.max(0, (variances[at] ?? 0) - (means[at] ?? 0) ** 2);
  }
  return { means, variances };
}

/** Of the number of each case its mean, and the mean of its square: a row of columns a case. */
interface CaseMoments {
  readonly means: Float64Array;
  readonly squares: Float64Array;
}

function caseMoments(
  { cases }: Fleet,
  states: readonly WearState[],
  spans: readonly MonthSpan[],
): CaseMoments {
  const columns = states.length * spans.length;
  const means = new Float64Array(cases.length * columns);
  const squares = new Float64Array(cases.length * columns);
  const until = new Map<number, { readonly numbers: number[]; readonly spans: MonthSpan[] }>();
  const upTo = (last: number): { readonly numbers: number[]; readonly spans: MonthSpan[] } => {
    const known = until.get(last);
    if (known !== undefined) return known;
    const numbers = [...spans.keys()].filter((at) => (spans[at]?.[0] ?? 0) <= last);
    const made = {
      numbers,
      spans: numbers.map((at): MonthSpan => {
        const [first, end] = spans[at] ?? [0, 0];
        return [first, Math.min(end, last)];
      }),
    };
    until.set(last, made);
    return made;
  };
  cases.forEach(({ unit, last }, nth) => {
    const { numbers, spans: open } = upTo(last);
    states.forEach((state, which) => {
      const row = state.moments(unit, open);
      const to = nth * columns + which * spans.length;
      numbers.forEach((number, at) => {
        means[to + number] = row[at] ?? 0;
        squares[to + number] = row[numbers.length + at] ?? 0;
      });
    });
  });
  return { means, squares };
}

function memberSums({ members }: Group, [point, own]: PointPair, known: Known): Sums {
  const sums = noSums(known.columns);
  // Of many parts one case is certain: those alike are counted, and weighed once.
  const alike = new Map<number, number>();
  for (const { cases, shares } of members) {
    const row = shares?.[point * ERROR_POINTS.length + own];
    const only = row === undefined ? 0 : onlyCase(row);
    if (row === undefined || only >= 0) {
      const one = cases[only] ?? 0;
      alike.set(one, (alike.get(one) ?? 0) + 1);
      continue;
    }
    cases.forEach((one, which) => {
      addCase(known, one, row[which] ?? 0);
    });
    takeMember(sums, known, 1);
  }
  for (const [one, times] of alike) {
    addCase(known, one, 1);
    takeMember(sums, known, times);
  }
  return sums;
}

// These two are written out, for they are the innermost of a large fleet.
function addCase({ cases, columns, once, twice }: Known, one: number, share: number): void {
  if (share === 0) return;
  const { means, squares } = cases;
  const from = one * columns;
  for (let at = 0; at < columns; at += 1) {
    once[at] = (once[at] ?? 0) + share * (means[from + at] ?? 0);
    twice[at] = (twice[at] ?? 0) + share * (squares[from + at] ?? 0);
  }
}

function takeMember({ means, variances }: Sums, { once, twice }: Known, times: number): void {
  for (let at = 0; at < means.length; at += 1) {
    const mean = once[at] ?? 0;
    means[at] = (means[at] ?? 0) + times * mean;
    variances[at] = (variances[at] ?? 0) + times * Math.max(0, (twice[at] ?? 0) - mean * mean);
  }
  once.fill(0);
  twice.fill(0);
}
