import type { Day } from "../../../core/day.ts";
import { outOfLine } from "../../../core/outlier.ts";
import type { Counted } from "./counts.ts";
import type { Count } from "../../records/records.ts";

/**
 * The counts with those marked that are out of line with the device's own. Months that have not ended
 * are neither judged nor judged by: half a month's count is low. A zero is what somebody types for a
 * month without use: Setup says what it means, and it is never taken for a slip. A count that is less than half of
 * every other within a year is out of line too, however much counts may differ.
 */
export function markedCounts(counted: Counted, ended: Day): Counted {
  const byDevice = new Map<string, readonly Count[]>();
  for (const [key, own] of counted.byDevice) byDevice.set(key, marked(own, ended));
  return { ...counted, byDevice };
}

function marked(own: readonly Count[], ended: Day): readonly Count[] {
  const judged = own
    .filter(({ count, month }) => count !== null && month < ended)
    .sort((one, other) => one.month - other.month);
  const counts = judged.map(({ count }) => count ?? 0);
  const sides = outOfLine(counts).map(
    (side, at) => side ?? (isFarBelow(counts, at) ? "low" : null),
  );
  if (sides.every((side) => side === null)) return own;
  const found = new Map(
    judged.map((count, at) => [count, count.count === 0 ? null : (sides[at] ?? null)]),
  );
  return own.map((count) => {
    const side = found.get(count) ?? null;
    return side === null ? count : { ...count, outOfLine: side };
  });
}

/** Counts before and after one that it is judged by, and the fewest of them. */
const REACH = 12;
const FEWEST = 8;
/** On the scale 2 √(count + 3/8) a count by chance alone has a spread of 1 (Anscombe 1948, from memory). */
const FAR = 4;

function isFarBelow(counts: readonly number[], at: number): boolean {
  const count = counts[at] ?? 0;
  // Nearly every count is more than half of the one beside it.
  if (count * 2 >= (counts[at - 1] ?? counts[at + 1] ?? 0)) return false;
  const others = counts.slice(Math.max(0, at - REACH), at + REACH + 1);
  others.splice(Math.min(at, REACH), 1);
  const least = Math.min(...others);
  return others.length >= FEWEST && count * 2 < least && scaled(least) - scaled(count) > FAR;
}

function scaled(count: number): number {
  return 2 * Math.sqrt(count + 3 / 8);
}
