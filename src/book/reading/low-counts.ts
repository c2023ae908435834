import { notice } from "../records/problems.ts";
import type { Count, Problem } from "../records/records.ts";
import { type CountsRead, ownCounts, placeOf } from "./gaps.ts";

/** Counts before and after one that it is told beside, and the fewest of them. */
const REACH = 12;
const FEWEST = 8;
/** On the scale 2 √(count + 3/8) a count by chance alone has a spread of 1 (Anscombe 1948, from memory). */
const FAR = 3.5;

/**
 * Counts that are less than half of every other within a year, though in line with how much counts differ: perhaps a digit
 * is mistyped, or only a part of the month is there. They count as they are, so they are told.
 */
export function lowCounts({ devices, counted, headingOf, ended }: CountsRead): Problem[] {
  return [...devices].flatMap(([key, { retired }]) => {
    if (retired) return [];
    const own = ownCounts(counted, key).filter(
      ({ month, count }) => count !== null && month < ended,
    );
    return own.flatMap((entry, at) => {
      const others = around(own, at);
      if (entry.outOfLine !== undefined || !isFarBelow(entry.count ?? 0, others)) return [];
      const cause = `${entry.count ?? 0} is less than half of the device's other counts within a year, ${Math.min(...others)} to ${Math.max(...others)} a month; it counts as it is.`;
      const fix = "Check that no digit is mistyped and the month is complete.";
      return [notice("count out of line", placeOf(entry, headingOf), cause, fix)];
    });
  });
}

function around(own: readonly Count[], at: number): number[] {
  // The nearest first: nearly every count is more than half of these.
  const [count, before] = [own[at]?.count ?? 0, own[at - 1]?.count ?? own[at + 1]?.count ?? 0];
  if (count * 2 >= before) return [];
  const near = own.slice(Math.max(0, at - REACH), at + REACH + 1);
  return near.flatMap((other) => (other === own[at] ? [] : (other.count ?? [])));
}

/** A zero is a month without use: Setup says what it means. */
function isFarBelow(count: number, others: readonly number[]): boolean {
  if (count === 0 || others.length < FEWEST) return false;
  const least = Math.min(...others);
  return count * 2 < least && scaled(least) - scaled(count) > FAR;
}

function scaled(count: number): number {
  return 2 * Math.sqrt(count + 3 / 8);
}
