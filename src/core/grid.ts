import { type Distribution, mixtureOf, repeated, sumOf, trimmed } from "./distribution.ts";
import { type Life, possibleLives } from "./life.ts";
import {
  aheadMonths,
  type LookAhead,
  type MonthNeed,
  type MonthSpan,
  requireMonths,
  type Unit,
} from "./schedule.ts";
import { type Wearing, wearing } from "./wearing.ts";

/**
 * Expected replacements of each part in use, month by month, where parts wear.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear The life of the parts, with or without its uncertainty.
 * @returns For each part its months, one for each of `aheadMonths`.
 * @throws InputError if a number is no such number.
 * @example
 * gridNeeds([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, { shape: 9, scale: 90 })[0][0].scheduled.toFixed(4) // => "1.0000"
 */
export function gridNeeds(units: readonly Unit[], ahead: LookAhead, wear: Life): MonthNeed[][] {
  const found = new Map<string, MonthNeed[]>();
  const lives = livesOf(ahead, wear);
  const months = aheadMonths(ahead);
  return units.map((unit) => {
    requireUnit(unit);
    const key = keyOf(unit);
    const known = found.get(key);
    if (known !== undefined) return known;
    const sums = months.map(({ month }) => ({ month, scheduled: 0, unplanned: 0 }));
    for (const { share, parts } of lives) {
      const row = parts.need(unit);
      sums.forEach((sum, at) => {
        sum.scheduled += share * (row[at] ?? 0);
        sum.unplanned += share * (row[sums.length + at] ?? 0);
      });
    }
    found.set(key, sums);
    return sums;
  });
}

/** A life that may be the true one, with its share and its parts. */
export interface OpenLife {
  readonly share: number;
  readonly parts: Wearing;
}

const known = new WeakMap<LookAhead, Map<Life, readonly OpenLife[]>>();

/**
 * The lives that a fit leaves open, each with its share and its parts. Of one time ahead and fit they are worked out
 * once, however often they are asked for.
 *
 * @param ahead The time ahead.
 * @param wear The life of the parts, with or without its uncertainty.
 * @returns Lives; their shares sum to 1.
 * @example
 * livesOf({ from: day("2026-04-01"), horizon: 1 }, { shape: 2.5, scale: 9 }).map(({ share }) => share) // => [1]
 */
export function livesOf(ahead: LookAhead, wear: Life): readonly OpenLife[] {
  const here = known.get(ahead) ?? new Map<Life, readonly OpenLife[]>();
  known.set(ahead, here);
  const lives = here.get(wear) ?? openLives(ahead, wear);
  here.set(wear, lives);
  return lives;
}

function openLives(ahead: LookAhead, wear: Life): OpenLife[] {
  const lives = possibleLives(wear);
  const parts = wearing(
    ahead,
    lives.map(({ life }) => life),
  );
  return lives.flatMap(({ share }, at) => {
    const own = parts[at];
    return own === undefined ? [] : [{ share, parts: own }];
  });
}

function keyOf({ lastDone, months, then = months }: Unit): string {
  return `${lastDone} ${months} ${then}`;
}

function requireUnit({ months, then = months }: Unit): void {
  requireMonths("months", months);
  requireMonths("then", then);
}

/**
 * Chances of each number of replacements of all parts in use, which wear independently.
 *
 * @param units Parts in use.
 * @param ahead The time ahead.
 * @param wear The life of the parts; with its uncertainty the chances are taken over all it leaves open.
 * @param spans Months counted together, each span for itself.
 * @returns Chances, one set a span.
 * @throws InputError if a number is no such number.
 * @example
 * gridDistributions([{ lastDone: day("2026-01-10"), months: 3 }], { from: day("2026-04-01"), horizon: 1 }, { shape: 9, scale: 90 }, [[0, 1]])[0].least // => 1
 */
export function gridDistributions(
  units: readonly Unit[],
  ahead: LookAhead,
  wear: Life,
  spans: readonly MonthSpan[],
): Distribution[] {
  aheadMonths(ahead);
  units.forEach(requireUnit);
  const alike = new Map<string, { readonly unit: Unit; times: number }>();
  for (const unit of units) {
    const group = alike.get(keyOf(unit));
    if (group === undefined) alike.set(keyOf(unit), { unit, times: 1 });
    else group.times += 1;
  }
  const lives = livesOf(ahead, wear);
  return spans.map((span) =>
    mixtureOf(
      lives.map(({ share, parts }) => ({
        share,
        distribution: sumOf(
          [...alike.values()].map(({ unit, times }) =>
            repeated(trimmed({ least: 0, chances: parts.counts(unit, span) }), times),
          ),
        ),
      })),
    ),
  );
}
