import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { usageOf } from "../../../src/book/columns/usage.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import type { Settings } from "../../../src/book/records/settings.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";
import { cases } from "../../cases.ts";
import { partOf, partsWith, siteWith, small, type Small, yearOf } from "../../scenes/programme.ts";

const YEAR = [98, 74, 116, 92, 88, 95, 103, 79, 91, 85, 97, 90] as const;

interface Counts {
  readonly first: readonly CellValue[];
  readonly other?: readonly CellValue[];
  readonly settings?: Partial<Settings>;
}

/** Two devices of one site with the counts of the months up to June. */
function counted({ first, other = YEAR, settings = {} }: Counts): Small {
  const devices = [
    { id: "A-1", counts: first },
    { id: "A-2", counts: other },
  ];
  return small(devices, { parts: partsWith(), sites: [siteWith("S01")], settings });
}

function usesOf({ ours, counts }: Reading, key = "a-1"): number | null {
  return usageOf(counts, ours.settings).get(key)?.uses ?? null;
}

/** The counts with some of them, from the last backwards, typed otherwise. */
function ending(...last: readonly CellValue[]): CellValue[] {
  return [...YEAR.slice(0, YEAR.length - last.length), ...last];
}

const SOUND = usesOf(counted({ first: YEAR }).reading) ?? NaN;

describe("usage", () => {
  it("with a digit lost in one of its latest months is in doubt: the shortest interval applies", () => {
    for (const last of [[3], [9, 90], [8, 97, 90]]) {
      expect(usesOf(counted({ first: ending(...last) }).reading)).toBeNull();
    }
    // Longer ago it is told, and nothing follows from it.
    expect(usesOf(counted({ first: ending(9, 85, 97, 90) }).reading)).toBe(SOUND);
  });

  it("with a digit too many keeps the count: it shortens", () => {
    expect(usesOf(counted({ first: ending(900) }).reading)).toBeGreaterThan(3 * SOUND);
  });

  it("without the latest months that others have counted is never lower than it can have been", () => {
    for (const last of [[null], [null, null], [null, 90], [97, null, 90]]) {
      const found = usesOf(counted({ first: ending(...last) }).reading) ?? Infinity;
      // The greatest of its counts in the missing months would give less.
      const most = ending(...last)
        .slice(-3)
        .map((cell) => (cell === null ? 116 : Number(cell)));
      const rate = most.reduce((sum, count) => sum + count, 0) / (91 / 30.436875);
      expect(found).toBeGreaterThan(rate);
      expect(found).toBeLessThan(3 * SOUND);
    }
  });

  it("where nobody has counted the latest month yet is that of the months before", () => {
    const late = [...YEAR.slice(0, -1), null];
    const { reading } = counted({ first: late, other: late });
    expect(usesOf(reading)).toBeCloseTo((91 + 85 + 97) / (92 / 30.436875), 1);
  });

  it("with a zero of a busy device counts as with a blank, unless zeros are real", () => {
    const blank = usesOf(counted({ first: ending(null) }).reading);
    expect(usesOf(counted({ first: ending(0) }).reading)).toBeCloseTo(blank ?? NaN, 0);
    const real = counted({ first: ending(0), settings: { zeroCounts: true } });
    expect(usesOf(real.reading)).toBeCloseTo((85 + 97) / (91 / 30.436875), 1);
    expect(real.reading.problems).toEqual([]);
  });

  it("of a device that stands still every other month passes its zeros over", () => {
    const still = [12, 0, 9, 0, 10, 0, 8, 0, 11, 9, 10, 0];
    expect(usesOf(counted({ first: still }).reading)).toBeLessThan(11);
  });

  it("is never lower for a count that is blanked, text, below zero, or a tenth or ten times of it and told", () => {
    const months = fc.array(fc.integer({ min: 20, max: 60 }), { minLength: 4, maxLength: 12 });
    const change = fc.constantFrom<(count: number) => CellValue>(
      () => null,
      String,
      (count) => -count,
      () => 0,
      (count) => Math.floor(count / 10),
      (count) => count * 10,
    );
    fc.assert(
      fc.property(months, fc.nat(11), change, (counts, nth, changed) => {
        const at = nth % counts.length;
        const odd = counts.map((count, month) => (month === at ? changed(count) : count));
        const other = counts.map(() => 40);
        const sound = usesOf(counted({ first: counts, other }).reading) ?? Infinity;
        const { reading } = counted({ first: odd, other });
        const isTold = reading.problems.length > 0;
        if (isTold) expect(usesOf(reading) ?? Infinity).toBeGreaterThanOrEqual(sound - 1e-9);
      }),
      { numRuns: cases("Usage with one count changed", 2000, 200) },
    );
  });
});

describe("the year ahead", () => {
  const setsOf = (given: Counts): number =>
    partOf(yearOf(counted(given)), "SET").units.reduce((sum, { then }) => sum + 1 / then, 0);
  const thenOf = (given: Counts, device: string): number =>
    partOf(yearOf(counted(given)), "SET").units.find((unit) => unit.device === device)?.then ?? NaN;
  const busy = YEAR.map((count) => Math.round(count / 2));

  it("needs no less for a digit lost or added, or a month missing, of either device", () => {
    const given = { first: busy, other: busy };
    const sound = setsOf(given);
    for (const at of busy.keys()) {
      // Before its first count a device may not have been there: a blank says so, a count in doubt does not.
      const missing = at === 0 ? [] : [null];
      for (const odd of [...missing, Math.floor((busy[at] ?? 0) / 10), (busy[at] ?? 0) * 10]) {
        const first = busy.map((count, month) => (month === at ? odd : count));
        expect(setsOf({ first, other: busy })).toBeGreaterThanOrEqual(sound - 1e-9);
        expect(thenOf({ first, other: busy }, "A-2")).toBeLessThanOrEqual(thenOf(given, "A-2"));
      }
    }
  });
});
