import type { Day } from "../../core/day.ts";
import { outOfLine } from "../../core/outlier.ts";
import type { Counted } from "./counts.ts";
import type { Count } from "../records/records.ts";

/**
 * The counts with those marked that are out of line with the device's own. Months that have not ended
 * are neither judged nor judged by: half a month's count is low. A zero is what somebody types for a
 * month without use: Setup says what it means, and it is never taken for a slip.
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
  const sides = outOfLine(judged.map(({ count }) => count ?? 0));
  if (sides.every((side) => side === null)) return own;
  const found = new Map(
    judged.map((count, at) => [count, count.count === 0 ? null : (sides[at] ?? null)]),
  );
  return own.map((count) => {
    const side = found.get(count) ?? null;
    return side === null ? count : { ...count, outOfLine: side };
  });
}
