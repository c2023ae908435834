import { useRate } from "../../core/counts.ts";
import { addMonths, type Day, monthStart } from "../../core/day.ts";
import { NoAnswerError } from "../../core/errors.ts";
import { countLimits } from "../../core/outlier.ts";
import type { Count } from "../records/records.ts";
import type { Settings } from "../records/settings.ts";

/** Latest months with a count that make up the usage. */
export const RECENT_MONTHS = 3;

/** Latest counts that say what a count in line is. */
const LINE_COUNTS = 12;

/** Uses a month of one device, and the last day its counts cover. */
export interface Usage {
  /** Null when nothing can be trusted: the short end applies. */
  readonly uses: number | null;
  /** What the counts in line say by themselves: the share of its site that a device has at least. */
  readonly least: number | null;
  readonly countedTo: Day | null;
  /** What too few counts to be a usage say; null where there are enough, or none. */
  readonly few: FewCounts | "in doubt" | null;
}

/** Uses a month by the first counts of a device, and of how many months. */
interface FewCounts {
  readonly uses: number;
  readonly months: number;
}

/**
 * Usage of every counted device from the months that have ended by the report date. A running month is
 * left out, for half a month's count would lengthen the interval; so is the whole usage of a device
 * when one of its latest entries cannot be used or is out of line below, or fewer than three lie close
 * together. A month others have counts for and this device has not never lowers its usage.
 */
export function usageOf(counts: readonly Count[], settings: Settings): ReadonlyMap<string, Usage> {
  const bySettings = found.get(counts) ?? new WeakMap<Settings, ReadonlyMap<string, Usage>>();
  found.set(counts, bySettings);
  const usage = bySettings.get(settings) ?? usageBy(counts, settings);
  bySettings.set(settings, usage);
  return usage;
}

/** Worked out once for a list of counts and the settings. */
const found = new WeakMap<readonly Count[], WeakMap<Settings, ReadonlyMap<string, Usage>>>();

function usageBy(counts: readonly Count[], settings: Settings): ReadonlyMap<string, Usage> {
  const byDevice = new Map<string, Count[]>();
  // The counts of a device mostly stand together.
  let [key, own]: [string | null, Count[]] = [null, []];
  const running = monthStart(settings.reportDate);
  let newest: Day | null = null;
  for (const count of counts) {
    if (count.count === null && !count.faulty) continue;
    if (count.month >= running) continue;
    if (count.count !== null && (newest === null || count.month > newest)) newest = count.month;
    if (count.deviceKey !== key) {
      key = count.deviceKey;
      own = byDevice.get(key) ?? [];
      byDevice.set(key, own);
    }
    own.push(count);
  }
  const book = { newest, settings };
  return new Map(
    [...byDevice].map(([device, some]) => [device, usageFrom(latestFirst(some), book)]),
  );
}

/** Counts from the latest month back; a later entry for the same month replaces the earlier one, it never adds. */
function latestFirst(some: Count[]): readonly Count[] {
  const rises = some.every(({ month }, at) => at === 0 || month > (some[at - 1]?.month ?? month));
  if (rises) return some.reverse();
  const entries = [...new Map(some.map((count) => [count.month, count])).values()];
  return entries.sort((one, other) => other.month - one.month);
}

interface Book {
  /** The newest month anyone has counted. */
  readonly newest: Day | null;
  readonly settings: Settings;
}

function usageFrom(entries: readonly Count[], { newest, settings }: Book): Usage {
  const counted = entries.filter(
    (entry) => entry.faulty || settings.zeroCounts || entry.count !== 0,
  );
  const latest = counted[0];
  const none = { uses: null, least: null, few: null };
  if (latest === undefined) return { ...none, countedTo: null };
  const oldest = addMonths(latest.month, -(RECENT_MONTHS + settings.lateMonths));
  const recent = counted.slice(0, RECENT_MONTHS).filter(({ month }) => month > oldest);
  const countedTo = (addMonths(latest.month, 1) - 1) as Day;
  // Fewer counts than that are no usage: light months alone would lengthen the interval.
  const isDoubtful = recent.some(({ faulty, outOfLine }) => faulty || outOfLine === "low");
  if (isDoubtful)
    return { ...none, few: counted.length < RECENT_MONTHS ? "in doubt" : null, countedTo };
  if (recent.length < RECENT_MONTHS) {
    const isNew = counted.length < RECENT_MONTHS;
    return {
      ...none,
      few: isNew ? fewOf(recent, newest ?? latest.month, settings) : null,
      countedTo,
    };
  }
  const uses = rateOf(recent, settings);
  const inLine = recent.filter(({ outOfLine }) => outOfLine === undefined);
  const least = inLine.length === 0 ? uses : rateOf(inLine, settings);
  const filled = withGaps(entries, newest ?? latest.month, settings);
  const careful = filled === null ? uses : rateOf(filled, settings);
  return {
    uses: uses === null || careful === null ? null : Math.max(uses, careful),
    least: uses === null || least === null ? null : Math.min(uses, least),
    few: null,
    countedTo,
  };
}

/** What first counts say. A month since the first that others have counted is the most of what is known. */
function fewOf(known: readonly Count[], newest: Day, settings: Settings): FewCounts | null {
  const most = Math.max(0, ...known.map(({ count }) => count ?? 0));
  const counts = new Map(known.map(({ month, count }) => [month, count ?? most]));
  const first = Math.min(...counts.keys()) as Day;
  for (let month = first; month <= newest; month = addMonths(month, 1)) {
    counts.set(month, counts.get(month) ?? most);
  }
  const months = Math.min(RECENT_MONTHS, counts.size);
  const uses = rateOf(
    [...counts].map(([month, count]) => ({ month, count })),
    settings,
  );
  return uses === null ? null : { uses, months };
}

/**
 * The latest months with a count for each that has none: the most that would be in line with the latest
 * counts, for nobody knows what it was. Null where none is missing, or all are: what is so late counts as
 * before, until it is too late.
 */
function withGaps(
  entries: readonly Count[],
  newest: Day,
  { zeroCounts }: Settings,
): Pick<Count, "month" | "count">[] | null {
  const wanted = Array.from({ length: RECENT_MONTHS }, (_, back) => addMonths(newest, -back));
  const entryOf = (month: Day): Count | undefined => entries.find((one) => one.month === month);
  const isThere = (entry: Count | undefined): boolean =>
    entry !== undefined && (zeroCounts || entry.count !== 0);
  if (wanted.every((month) => isThere(entryOf(month)))) return null;
  const around = entries
    .filter(({ count, outOfLine }) => count !== null && outOfLine === undefined)
    .slice(0, LINE_COUNTS)
    .map(({ count }) => count ?? 0);
  // A zero that is passed over like a blank says as little as one, unless zeros are the device's habit.
  const isBusy = (countLimits(around)?.low ?? 0) > 0;
  const isMissing = (month: Day): boolean => {
    const entry = entryOf(month);
    return entry === undefined || (!zeroCounts && isBusy && entry.count === 0);
  };
  if (!wanted.some(isMissing)) return null;
  const most = mostInLine(around);
  return wanted.map((month) =>
    isMissing(month) ? { month, count: most } : { month, count: entryOf(month)?.count ?? null },
  );
}

/** The most that a count nobody knows can have been, going by counts around it; 0 where there are none. */
export function mostInLine(around: readonly number[]): number {
  return countLimits(around)?.high ?? Math.max(0, ...around);
}

function rateOf(
  recent: readonly Pick<Count, "month" | "count">[],
  settings: Settings,
): number | null {
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
