import { type Day, monthStart } from "../../../core/day.ts";
import type { Count } from "../../records/records.ts";

/** Why the newest counts of all devices may not be theirs: they fell together, or are one and the same number. */
export type Odd = "fallen" | "alike";

/** Devices that are no chance when all of them do the same. */
const ENOUGH = 4;
const NEARLY_ALL = 0.8;
/** Smaller numbers are often the same. */
const NO_CHANCE = 10;
/** A fall to less than that of the month before, and a device's own fall. */
const FALLEN = 0.4;
const OWN = 0.5;
/** Days: what has been so low for so long is how it is now. */
const A_YEAR = 365;

/** The counts of each month, every device's at a place of its own. */
type ByMonth = ReadonlyMap<Day, readonly (Count | undefined)[]>;

/**
 * The newest counts of a book that all changed together, as where they were divided, cut off or filled down: they would
 * lengthen every interval. Months that have not ended are none of them.
 */
export function oddCounts(
  all: Iterable<readonly Count[]>,
  reportDate: Day,
): readonly (readonly [Odd, Count])[] {
  const byMonth = monthsOf([...all], monthStart(reportDate));
  const months = [...byMonth.keys()].sort((one, other) => other - one);
  const [newest] = months;
  if (newest === undefined) return [];
  const countsOf = (some: readonly Day[]): Count[] =>
    some.flatMap((month) => (byMonth.get(month) ?? []).filter((one) => one !== undefined));
  const differing = months.findIndex((month) => !isOneNumber(countsOf([month])));
  const alike = differing < 0 ? [] : months.slice(0, differing);
  const fall = months.findIndex(
    (month, at) => month > newest - A_YEAR && isFall(byMonth, months.slice(0, at + 2)),
  );
  return [
    ...countsOf(alike).map((count) => ["alike", count] as const),
    ...countsOf(fall < 0 ? [] : months.slice(0, fall + 1)).map(
      (count) => ["fallen", count] as const,
    ),
  ];
}

function monthsOf(all: readonly (readonly Count[])[], ended: Day): ByMonth {
  const byMonth = new Map<Day, (Count | undefined)[]>();
  all.forEach((own, place) => {
    for (const one of own) {
      // What a nought means is said in Setup.
      if (one.count === null || one.count === 0 || one.month >= ended) continue;
      const there = byMonth.get(one.month) ?? all.map(() => undefined);
      there[place] = one;
      byMonth.set(one.month, there);
    }
  });
  return byMonth;
}

function isOneNumber(counts: readonly Count[]): boolean {
  const [first] = counts;
  return (
    counts.length >= ENOUGH &&
    Number(first?.count) >= NO_CHANCE &&
    counts.every(({ count }) => count === first?.count)
  );
}

/** Whether nearly all devices fell after the last of these months, newest first, and never came up again. */
function isFall(byMonth: ByMonth, months: readonly Day[]): boolean {
  const [before, ...later] = [...months].reverse();
  const earlier = byMonth.get(before ?? (0 as Day)) ?? [];
  return (
    later.length > 0 &&
    later.every((month, at) => isLower(byMonth.get(month) ?? [], earlier, at === 0 ? FALLEN : OWN))
  );
}

/** Whether the devices that have counts in two months were used to no more than a share of before, nearly all alike. */
function isLower(
  later: readonly (Count | undefined)[],
  earlier: readonly (Count | undefined)[],
  share: number,
): boolean {
  let [both, low, now, then] = [0, 0, 0, 0];
  for (let place = 0; place < later.length; place += 1) {
    const [count, was] = [later[place]?.count ?? null, earlier[place]?.count ?? 0];
    if (count === null || was <= 0) continue;
    both += 1;
    now += count;
    then += was;
    if (count <= was * OWN) low += 1;
  }
  return both >= ENOUGH && now <= then * share && low >= both * NEARLY_ALL;
}
