import { DAYS_PER_MONTH } from "./counts.ts";
import { type Distribution, NEGLIGIBLE, trimmed } from "./distribution.ts";
import type { Life } from "./life.ts";

/**
 * Days between the instants at which parts are looked at and, if worn, replaced: twice a week.
 * Everything here counts in such steps, so nothing is lost to rounding: it is the process itself.
 */
export const STEP_DAYS = 3.5;

/** A part in use: its age now and the age at which it is replaced on schedule, both in steps. */
export interface Aged {
  /** Below zero for a part that only begins then. */
  readonly age: number;
  /** At least 1. */
  readonly scheduled: number;
}

/**
 * Chance that a part is replaced at each coming step: found worn before the scheduled age, or on
 * schedule at it, worn or not. A part past its scheduled age is replaced at the first step.
 *
 * @param part Its age and scheduled age in steps.
 * @param life How parts wear; null where they never do.
 * @param last Steps looked ahead.
 * @returns Chances, one a step; the first stands for step 0 and is 0.
 * @see Feller, An Introduction to Probability Theory and Its Applications, volume I, chapter XIII.
 * @example
 * Array.from(firstChances({ age: 1, scheduled: 3 }, null, 4)) // => [0, 0, 1, 0, 0]
 */
export function firstChances(part: Aged, life: Life | null, last: number): Float64Array {
  const { age, scheduled } = part;
  const chances = new Float64Array(last + 1);
  const left = Math.max(1, scheduled - age);
  if (left <= last) chances[left] = 1;
  if (life === null || left === 1) return chances;
  // Wear up to an age, as the exponent: the share good is its negative exponential.
  const wear = (steps: number): number =>
    steps <= 0 ? 0 : ((steps * STEP_MONTHS) / life.scale) ** life.shape;
  const before = wear(age);
  const good = (steps: number): number =>
    before === Infinity ? 0 : Math.exp(before - wear(age + steps));
  let reached = 1;
  for (let step = Math.max(1, 1 - age); step < left && step <= last; step += 1) {
    const still = good(step);
    chances[step] = reached - still;
    reached = still;
  }
  if (left <= last) chances[left] = reached;
  return chances;
}

const STEP_MONTHS = STEP_DAYS / DAYS_PER_MONTH;

/**
 * Expected replacements at each step, the part fitted being replaced in its turn.
 *
 * @param first Chance (or, for many parts, expected number) of the first replacement at each step.
 * @param next Chance that a new part is replaced after each number of steps; the one for 0 is not
 *   read.
 * @returns Expected replacements, one a step, as many as `first` has.
 * @example
 * Array.from(renewals(Float64Array.of(0, 1, 0, 0, 0), Float64Array.of(0, 0, 1))) // => [0, 1, 0, 1, 0]
 */
export function renewals(first: Float64Array, next: Float64Array): Float64Array {
  const expected = Float64Array.from(first);
  for (let step = 1; step < expected.length; step += 1) {
    let sum = expected[step] ?? 0;
    const reach = Math.min(step, next.length - 1);
    for (let back = 1; back <= reach; back += 1) {
      sum += (expected[step - back] ?? 0) * (next[back] ?? 0);
    }
    expected[step] = sum;
  }
  return expected;
}

/**
 * Chances of each number of replacements of a part that is new now, for every number of steps.
 *
 * @param next Chance that a new part is replaced after each number of steps.
 * @param last Steps looked ahead.
 * @returns For each number of replacements from 0 the chance of it within 0, 1, 2, … steps; numbers
 *   that have no chance are left out.
 * @example
 * newCounts(Float64Array.of(0, 0.5, 0.5), 2).map((row) => Array.from(row)) // => [[1, 0.5, 0], [0, 0.5, 0.75], [0, 0, 0.25]]
 */
export function newCounts(next: Float64Array, last: number): Float64Array[] {
  const none = new Float64Array(last + 1);
  let still = 1;
  for (let step = 0; step <= last; step += 1) {
    still -= next[step] ?? 0;
    none[step] = Math.max(0, step >= next.length - 1 ? 0 : still);
  }
  const rows: Float64Array[] = [none];
  let row = onceMore(none, next);
  while (row.some((chance) => chance >= NEGLIGIBLE)) {
    rows.push(row);
    row = onceMore(row, next);
  }
  return rows;
}

// Chances of one replacement more: the first after some steps, the others in those left.
function onceMore(fewer: Float64Array, next: Float64Array): Float64Array {
  const chances = new Float64Array(fewer.length);
  const begins = fewer.findIndex((chance) => chance > 0);
  for (let step = begins; step >= 0 && step < fewer.length; step += 1) {
    let sum = 0;
    const reach = Math.min(step - begins, next.length - 1);
    for (let used = 1; used <= reach; used += 1)
      sum += (next[used] ?? 0) * (fewer[step - used] ?? 0);
    chances[step] = sum;
  }
  return chances;
}

/** What is needed to count a part's replacements. */
export interface Coming {
  /** Chance of its first replacement at each step from now. */
  readonly first: Float64Array;
  /** Chance that a new part is replaced after each number of steps. */
  readonly next: Float64Array;
  /** Expected replacements at each step; read only where the counting begins later than now. */
  readonly expected: Float64Array;
  /** What `newCounts` gives for `next`, over at least as many steps as are counted. */
  readonly counts: readonly Float64Array[];
}

/**
 * Chances of each number of replacements of a part between two steps.
 *
 * @param part What is to come for the part.
 * @param between The steps: after the first of them, up to and including the second.
 * @returns Their distribution.
 * @example
 * Array.from(replacementsBetween({ first: Float64Array.of(0, 0.5, 0.5), next: Float64Array.of(0, 0.5, 0.5), expected: Float64Array.of(0, 0.5, 0.75), counts: newCounts(Float64Array.of(0, 0.5, 0.5), 2) }, [1, 2]).chances) // => [0.25, 0.75]
 */
export function replacementsBetween(
  part: Coming,
  between: readonly [number, number],
): Distribution {
  const [after, until] = between;
  const { counts } = part;
  const coming = after === 0 ? part.first : firstAfter(part, between);
  const steps = until - after;
  const chances = new Float64Array(counts.length + 1);
  let some = 0;
  for (let step = 1; step <= steps; step += 1) {
    const chance = coming[step] ?? 0;
    if (chance === 0) continue;
    some += chance;
    for (let more = 0; more < counts.length; more += 1) {
      chances[more + 1] = (chances[more + 1] ?? 0) + chance * (counts[more]?.[steps - step] ?? 0);
    }
  }
  chances[0] = Math.max(0, 1 - some);
  return trimmed({ least: 0, chances });
}

// Chance of the first replacement after a later step: the one before it came at any step till then.
function firstAfter(
  { first, next, expected }: Coming,
  [after, until]: readonly [number, number],
): Float64Array {
  const coming = new Float64Array(until - after + 1);
  for (let step = 1; step <= until - after; step += 1) {
    let sum = first[after + step] ?? 0;
    for (let back = step; back < next.length && back < after + step; back += 1) {
      sum += (expected[after + step - back] ?? 0) * (next[back] ?? 0);
    }
    coming[step] = sum;
  }
  return coming;
}
