import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { KEPTRATE } from "../../functions/compliance.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { complianceRate, complianceText } from "../../src/core/compliance.ts";
import type { Published } from "./published.ts";

type Given = readonly [done: number, due: number, level: number];
type Limits = readonly [low: number, high: number];
type Row = readonly [Given, Limits, decimals: number];

const rows = (source: string, ...some: readonly Row[]): Published<Given, Limits>[] =>
  some.map(([given, value, decimals]) => ({
    source: `${source}: ${given[0]} of ${given[1]}, ${given[2]}`,
    ...{ given, value, decimals },
  }));

const binom = "R package binom (text of a test of statsmodels read)";
const prop = "R 3.6.2 prop.test and binom.test (text of a test of SciPy read)";
const newcombe = "Newcombe, Statistics in Medicine 17 (1998), table I";

const wilson: readonly Published<Given, Limits>[] = [
  ...rows(
    binom,
    [[18, 20, 0.95], [0.6989663547715128, 0.972133518786232], 12],
    [[4, 20, 0.95], [0.0806576625797981, 0.4160174322518935], 12],
    [[4, 200, 0.95], [0.00780442641634947, 0.05028708690582643], 12],
    [[190, 200, 0.95], [0.910421851861224, 0.972617354399236], 12],
  ),
  ...rows(
    prop,
    [[3, 10, 0.95], [0.1077913, 0.6032219], 7],
    [[3, 10, 0.99], [0.07956632, 0.6799753], 7],
    [[0, 10, 0.95], [0, 0.2775328], 7],
  ),
  ...rows(`${newcombe} (quoted in a test file, read)`, [[81, 263, 0.95], [0.2553, 0.3662], 4]),
  ...rows(
    `${newcombe} (from memory)`,
    [[15, 148, 0.95], [0.0624, 0.1605], 4],
    [[0, 20, 0.95], [0, 0.1611], 4],
    [[1, 29, 0.95], [0.0061, 0.1718], 4],
  ),
];

const exact: readonly Published<Given, Limits>[] = [
  ...rows(
    binom,
    [[18, 20, 0.95], [0.6830172859809176, 0.9876514728297052], 10],
    [[4, 20, 0.95], [0.05733399705003284, 0.436614002996668], 10],
    [[4, 200, 0.95], [0.005475565879556443, 0.05041360908989634], 10],
    [[190, 200, 0.95], [0.9099724622986486, 0.975765834527891], 10],
  ),
  ...rows(
    prop,
    [[20, 100, 0.95], [0.1266555521019559, 0.2918426890886281], 7],
    [[3, 50, 0.99], [0.006872485, 0.202706269], 7],
    [[0, 10, 0.95], [0, 0.3084971], 7],
    [[10, 10, 0.95], [0.6915029, 1], 7],
  ),
  ...rows(`${newcombe} (quoted in a test file, read)`, [[81, 263, 0.95], [0.2527, 0.3676], 4]),
  ...rows(
    `${newcombe} (from memory)`,
    [[15, 148, 0.95], [0.0578, 0.1617], 4],
    [[0, 20, 0.95], [0, 0.1684], 4],
    [[1, 29, 0.95], [0.0009, 0.1776], 4],
  ),
];

describe("published", () => {
  const check = (
    name: string,
    table: readonly Published<Given, Limits>[],
    exact: boolean,
  ): void => {
    for (const { source, given, value, decimals = 0 } of table) {
      it(`${name}: ${source}`, () => {
        const [done, due, level] = given;
        const found = complianceRate(done, due, { level, exact });
        expect(found.share).toBe(done / due);
        expect(found.low).toBeCloseTo(value[0], decimals);
        expect(found.high).toBeCloseTo(value[1], decimals);
      });
    }
  };
  check("Wilson", wilson, false);
  check("Clopper and Pearson", exact, true);
  it("Own arithmetic, no publication: 261, 249 and 271 of 272 as per cent", () => {
    expect([261, 249, 271, 272].map((done) => complianceText(done, 272, 2))).toEqual([
      ...["95.95%", "91.54%", "99.63%", "100.00%"],
    ]);
  });
});

interface Made {
  readonly done: number;
  readonly due: number;
  readonly level: number;
  readonly wilson: Limits;
  readonly exact: Limits;
}
const r = JSON.parse(
  readFileSync(new URL("../reference/compliance.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly rows: readonly Made[];
};

describe(`second implementation: ${r.made}, prop.test and binom.test`, () => {
  it("agrees on 60 shares of up to 3,000", () => {
    expect(r.rows.length).toBe(60);
    for (const { done, due, level, wilson, exact } of r.rows) {
      const one = complianceRate(done, due, { level });
      const other = complianceRate(done, due, { level, exact: true });
      expect(Math.abs(one.low - wilson[0])).toBeLessThan(1e-12);
      expect(Math.abs(one.high - wilson[1])).toBeLessThan(1e-12);
      expect(Math.abs(other.low - exact[0])).toBeLessThan(1e-10);
      expect(Math.abs(other.high - exact[1])).toBeLessThan(1e-10);
    }
  });
});

const counts = fc
  .tuple(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 1, max: 5000 }))
  .map(([one, other]): [number, number] => [Math.min(one, other), Math.max(one, other)]);
const level = fc.double({ min: 0.01, max: 0.9999, noNaN: true });

describe("properties", () => {
  it("limits stay within 0 and 1, hold the share, and touch the ends only with none or all", () => {
    const check = fc.property(counts, level, fc.boolean(), ([done, due], level, exact) => {
      const { share, low, high } = complianceRate(done, due, { level, exact });
      expect(low <= share && share <= high).toBe(true);
      expect(low === 0).toBe(done === 0);
      expect(high === 1).toBe(done === due);
      expect(low >= 0 && high <= 1).toBe(true);
    });
    fc.assert(check);
  });
  it("none and all give the ends themselves, to the last bit", () => {
    for (let due = 1; due <= 2_000; due += 1) {
      for (const level of [0.8, 0.9, 0.95, 0.99]) {
        expect([
          complianceRate(0, due, { level }).low,
          complianceRate(due, due, { level }).high,
        ]).toEqual([0, 1]);
      }
    }
  });
  it("more done gives higher limits, a higher level wider ones", () => {
    const check = fc.property(counts, level, fc.boolean(), ([done, due], level, exact) => {
      fc.pre(done < due);
      const one = complianceRate(done, due, { level, exact });
      const more = complianceRate(done + 1, due, { level, exact });
      expect(more.low).toBeGreaterThan(one.low);
      expect(more.high).toBeGreaterThan(one.high);
      const wide = complianceRate(done, due, { level: (1 + level) / 2, exact });
      expect(wide.low).toBeLessThanOrEqual(one.low);
      expect(wide.high).toBeGreaterThanOrEqual(one.high);
    });
    fc.assert(check);
  });
  it("kept and missed are each other's mirror", () => {
    const check = fc.property(counts, level, fc.boolean(), ([done, due], level, exact) => {
      const one = complianceRate(done, due, { level, exact });
      const other = complianceRate(due - done, due, { level, exact });
      expect(other.low).toBeCloseTo(1 - one.high, 10);
      expect(other.high).toBeCloseTo(1 - one.low, 10);
    });
    fc.assert(check);
  });
  it("a per cent is never above the share, never a unit below, and 100% only when all is done", () => {
    const decimals = fc.integer({ min: 0, max: 6 });
    const due = fc.integer({ min: 1, max: 90_000_000 });
    const check = fc.property(due, fc.nat(90_000_000), decimals, (due, some, decimals) => {
      const done = some % 3 === 0 ? due - 1 : some % (due + 1);
      const text = complianceText(done, due, decimals);
      const digits = BigInt(text.replace(/[.%]/g, ""));
      const scaled = BigInt(done) * 100n * 10n ** BigInt(decimals);
      expect(digits * BigInt(due) <= scaled).toBe(true);
      expect((digits + 1n) * BigInt(due) > scaled).toBe(true);
      expect(text.startsWith("100")).toBe(done === due);
      expect(text).toMatch(decimals === 0 ? /^\d+%$/ : new RegExp(`^\\d+\\.\\d{${decimals}}%$`));
    });
    fc.assert(check);
  });
});

describe("bad input", () => {
  const faults: readonly [() => unknown, string][] = [
    [() => complianceRate(3, 2), "done must be a whole number from 0 to due (2), got 3"],
    [() => complianceRate(-1, 2), "done must be a whole number from 0 to due (2), got -1"],
    [() => complianceRate(1.5, 2), "done must be a whole number from 0 to due (2), got 1.5"],
    [() => complianceRate(0, -1), "due must be a whole number from 0 to 90000000, got -1"],
    [() => complianceRate(1, 1e9), "due must be a whole number from 0 to 90000000, got 1000000000"],
    [() => complianceRate(1, 2, { level: 1 }), "level must be above 0 and below 1, got 1"],
    [() => complianceText(1, 2, 7), "decimals must be a whole number from 0 to 6, got 7"],
  ];
  for (const [run, message] of faults) {
    it(`says: ${message}`, () => {
      expect(run).toThrow(InputError);
      expect(run).toThrow(message);
    });
  }
  it("has no answer, and no 0%, where nothing was due", () => {
    expect(() => complianceRate(0, 0)).toThrow(NoAnswerError);
    expect(() => complianceText(0, 0)).toThrow("nothing was due");
    expect(KEPTRATE.call([0, 0])).toEqual({ error: "#N/A", message: "nothing was due" });
  });
});
