import { useRate } from "../../core/counts.ts";
import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { NoAnswerError } from "../../core/errors.ts";
import type { Count } from "../records/records.ts";
import type { Settings } from "../records/settings.ts";

/** Latest months with a count that make up the usage. */
const RECENT_MONTHS = 3;

/** Uses a month of one device, and the last day its counts cover. */
export interface Usage {
  /** Null when nothing can be trusted: the short end applies. */
  readonly uses: number | null;
  readonly countedTo: Day | null;
}

/**
 * Usage of every counted device from the months that have ended by the report date. A running month is
 * left out, for half a month's count would lengthen the interval; so is the whole usage of a device
 * when one of its latest entries cannot be used, or fewer than three lie close together.
 */
export function usageOf(counts: readonly Count[], settings: Settings): ReadonlyMap<string, Usage> {
  const byDevice = new Map<string, Map<Day, Count>>();
  const running = monthStart(settings.reportDate);
  for (const count of counts) {
    if (count.count === null && !count.faulty) continue;
    if (count.month >= running) continue;
    const key = count.deviceKey;
    const months = byDevice.get(key);
    // A later entry for the same month replaces the earlier one, it never adds.
    if (months === undefined) byDevice.set(key, new Map([[count.month, count]]));
    else months.set(count.month, count);
  }
  return new Map([...byDevice].map(([device, months]) => [device, usageFrom(months, settings)]));
}

function usageFrom(months: ReadonlyMap<Day, Count>, settings: Settings): Usage {
  const counted = [...months.values()]
    .filter(({ count, faulty }) => faulty || settings.zeroCounts || count !== 0)
    .sort((one, other) => other.month - one.month);
  const latest = counted[0];
  if (latest === undefined) return { uses: null, countedTo: null };
  const oldest = addMonths(latest.month, -(RECENT_MONTHS + settings.lateMonths));
  const recent = counted.slice(0, RECENT_MONTHS).filter(({ month }) => month > oldest);
  const countedTo = (addMonths(latest.month, 1) - 1) as Day;
  // Fewer counts than that are no usage: light months alone would lengthen the interval.
  if (recent.length < RECENT_MONTHS || recent.some(({ faulty }) => faulty)) {
    return { uses: null, countedTo };
  }
  return { uses: rateOf(recent, settings), countedTo };
}

function rateOf(recent: readonly Count[], settings: Settings): number | null {
  try {
    const rate = useRate(
      recent.map(({ count }) => count),
      recent.map(({ month }) => month),
      { recent: RECENT_MONTHS, zeroCounts: settings.zeroCounts },
    );
    // Without knowing the sessions a baby takes nobody knows the use.
    if (settings.countsBabies && settings.doubted.has("rescreenFactor")) return null;
    return roundUp(settings.countsBabies ? rate * settings.rescreenFactor : rate);
  } catch (error) {
    if (error instanceof NoAnswerError) return null;
    throw error;
  }
}

/** Two decimals, upwards: the rounded usage never gives a longer interval than the exact one. */
function roundUp(rate: number): number {
  // Rounding up a nought must not give a negative one: programs do not agree on dividing by it.
  return Math.ceil(rate * 100 - 1e-9) / 100 + 0;
}
