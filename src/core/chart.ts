import { NoAnswerError } from "./errors.ts";
import { type Compliance, complianceRate } from "./compliance.ts";

/** What was done of what was due in one group: a week, a month, a site. */
export interface ComplianceGroup {
  readonly done: number;
  readonly due: number;
}

/** One group seen against all of them. */
export interface CompliancePoint {
  /** Share and Wilson limits of the group by itself; null where nothing was due. */
  readonly compliance: Compliance | null;
  /** Where the group's share is to lie if it is like the others; null where too little was due. */
  readonly limits: { readonly low: number; readonly high: number } | null;
  /** Whether it lies outside; null where there are no limits. */
  readonly out: boolean | null;
}

/** Groups seen against each other. */
export interface ComplianceChart {
  /** Share of all groups together. */
  readonly centre: number;
  readonly points: readonly CompliancePoint[];
}

/** Standard deviations a group may be off. */
const REACH = 3;
/** Done and not done that a group of its size must be expected to have for the limits to hold. */
const LEAST = 5;

/**
 * A chart of shares (p-chart): each group against the share of all, within three standard deviations of a
 * group of its size, held to 0 and 1. Where fewer than five done or five not done are to be expected of a
 * group the limits do not hold and are null; the group's own Wilson limits are given for every group.
 *
 * @param groups What was done and due in each.
 * @returns The centre and one point a group.
 * @throws InputError if a count is no such number; NoAnswerError if nothing was due.
 * @see NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.3.2.
 * @example
 * complianceChart([{ done: 20, due: 100 }, { done: 80, due: 100 }]).points.map(({ out }) => out) // => [true, true]
 */
export function complianceChart(groups: readonly ComplianceGroup[]): ComplianceChart {
  const shares = groups.map(({ done, due }) =>
    done === 0 && due === 0 ? null : complianceRate(done, due),
  );
  const due = groups.reduce((sum, group) => sum + group.due, 0);
  if (due === 0) throw new NoAnswerError("nothing was due");
  const centre = groups.reduce((sum, group) => sum + group.done, 0) / due;
  const points = groups.map((group, index): CompliancePoint => {
    const own = shares[index] ?? null;
    if (own === null || group.due * Math.min(centre, 1 - centre) < LEAST) {
      return { compliance: own, limits: null, out: null };
    }
    const half = REACH * Math.sqrt((centre * (1 - centre)) / group.due);
    const limits = { low: Math.max(0, centre - half), high: Math.min(1, centre + half) };
    return { compliance: own, limits, out: own.share < limits.low || own.share > limits.high };
  });
  return { centre, points };
}
