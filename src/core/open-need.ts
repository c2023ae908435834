import { countDistribution } from "./count-distribution.ts";
import { convolution, type Distribution, meanOf, mixtureOf, sumOf } from "./distribution.ts";
import { failuresAhead } from "./life.ts";
import { momentsOfNumber, normalOf } from "./moments.ts";
import type { Wear } from "./need.ts";
import { EXACT, fleetCount, foundIn, groupCount } from "./open-counts.ts";
import { fleetOf, inUse, type OpenUnit } from "./open-fleet.ts";
import { momentTable } from "./open-moments.ts";
import { statesOf } from "./open-states.ts";
import { type LookAhead, type MonthSpan, requireSpan } from "./schedule.ts";

/** What follows from the number of a group in a span, which is told by its place, such as the packs of a site. */
export type GroupMap = (count: Distribution, group: string, span: number) => Distribution;

/** What is asked of parts whose intervals are open. */
export interface Asked {
  /** Months counted together, each span for itself. */
  readonly spans: readonly MonthSpan[];
}

/** What is asked where something follows from the number of a group. */
export interface AskedFollowing extends Asked {
  readonly follows: GroupMap;
  /** Group by group, or once from the number of all (whose group is ""). */
  readonly from: "groups" | "all";
}

/** A point of the error common to all, which stands for its share of it, and what is known there. */
export interface AtPoint {
  readonly share: number;
  readonly distribution: Distribution;
}

/** What follows from numbers, such as packs. */
export interface Following {
  /** At each of three points of the error common to all, its share and the chances of the sum, one set a span. */
  readonly points: readonly { readonly share: number; readonly sums: readonly Distribution[] }[];
  /** Expected for each group, one number a span. */
  readonly means: ReadonlyMap<string, readonly number[]>;
}

/**
 * Chances of each number of replacements of all parts in use, where their intervals are open too.
 *
 * What they are at each point of the error common to all (`openAtPoints`), mixed. So the variance is the mean of the
 * variances and the variance of the means.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @param asked Spans.
 * @returns Chances, one set a span.
 * @throws InputError if a number is no such number.
 * @see Abramowitz and Stegun, Handbook of Mathematical Functions, table 25.10, for the points.
 * @example
 * openDistributions([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }], { from: day("2026-04-01"), horizon: 12 }, null, { spans: [[0, 12]] }).map(meanOf) // => [4]
 */
export function openDistributions(
  units: readonly OpenUnit[],
  ahead: LookAhead,
  wear: Wear,
  asked: Asked,
): Distribution[] {
  return openAtPoints(units, ahead, wear, asked).map((points) => mixtureOf(points));
}

/**
 * Chances of each number of replacements of all parts in use at each point of the error common to all.
 *
 * There, for each life that the log leaves open, the numbers of every group are mixed over three points of its own
 * error and groups are added up; then lives are mixed. Up to 100 parts chances are added up one by one; above, means
 * and variances, taken as normal.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @param asked Spans.
 * @returns For each span three points, or one where no interval is open.
 * @throws InputError if a number is no such number.
 * @example
 * openAtPoints([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }], { from: day("2026-04-01"), horizon: 12 }, null, { spans: [[0, 12]] }).map((points) => points.length) // => [1]
 */
export function openAtPoints(
  units: readonly OpenUnit[],
  ahead: LookAhead,
  wear: Wear,
  asked: Asked,
): AtPoint[][] {
  const { spans } = asked;
  for (const span of spans) requireSpan(span, ahead);
  const counted = wear !== null && !("shape" in wear) ? wear : null;
  const states = statesOf(ahead, counted === null ? wear : null);
  const fleet = fleetOf(units);
  const table = momentTable(fleet, states, spans);
  return spans.map((span, nth) => {
    const sought = states.map((state, at) =>
      foundIn(fleet, { state, span, ahead, table, column: at * spans.length + nth }),
    );
    const early =
      counted === null
        ? null
        : countDistribution(failuresAhead(counted, inUse(units, span, ahead)));
    return fleet.common.map(({ share }, point) => {
      const mixed = mixtureOf(
        sought.map((found) => ({
          share: found.state.share,
          distribution: fleetCount(fleet, point, found),
        })),
      );
      return { share, distribution: early === null ? mixed : convolution(mixed, early) };
    });
  });
}

/**
 * What follows from the numbers of groups, such as the packs of sites: expected for each, and its chances for
 * all of them at each point of the error common to all, so that parts that share the error can be added up.
 * As `openDistributions` otherwise; a rate of which few failures are known is taken at eight values.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear What is known of how parts wear.
 * @param asked Spans, and what follows.
 * @returns Chances and means.
 * @throws InputError if a number is no such number.
 * @example
 * openFollowing([{ lastDone: day("2026-01-10"), months: 3, group: "", last: 12, ways: null }], { from: day("2026-04-01"), horizon: 12 }, null, { spans: [[0, 12]], from: "groups", follows: (count) => mapped(count, (units) => Math.ceil(units / 3)) }).means.get("") // => [2]
 */
export function openFollowing(
  units: readonly OpenUnit[],
  ahead: LookAhead,
  wear: Wear,
  asked: AskedFollowing,
): Following {
  const { spans, follows, from } = asked;
  for (const span of spans) requireSpan(span, ahead);
  const states = statesOf(ahead, wear);
  const fleet = fleetOf(units);
  const table = momentTable(fleet, states, spans);
  const means = new Map<string, number[]>();
  const sums = spans.map((span, nth) => {
    const parts = fleet.common.map((): { share: number; distribution: Distribution }[] => []);
    for (const [at, state] of states.entries()) {
      const column = at * spans.length + nth;
      const found = foundIn(fleet, { state, span, ahead, table, column });
      fleet.common.forEach(({ share }, point) => {
        const each: [string, Distribution][] =
          from === "all"
            ? [["", follows(fleetCount(fleet, point, found), "", nth)]]
            : [...fleet.groups].map(([name, group]) => [
                name,
                follows(groupCount(group, point, found), name, nth),
              ]);
        for (const [group, one] of each) {
          const row = means.get(group) ?? spans.map(() => 0);
          row[nth] = (row[nth] ?? 0) + share * state.share * meanOf(one);
          means.set(group, row);
        }
        const all = each.map(([, one]) => one);
        const distribution = fleet.size > EXACT ? normalOf(all.map(momentsOfNumber)) : sumOf(all);
        parts[point]?.push({ share: state.share, distribution });
      });
    }
    return parts.map((one) => mixtureOf(one));
  });
  return {
    means,
    points: fleet.common.map(({ share }, point) => ({
      share,
      sums: sums.flatMap((row) => row[point] ?? []),
    })),
  };
}
