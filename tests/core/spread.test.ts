import { describe, expect, it } from "vitest";
import { chance } from "../../src/book/demo/chance.ts";
import { spreadAhead, triedAhead } from "../../src/core/spread.ts";

describe("a forecast's spread", () => {
  it("is none in the past of a steady series, and the stated one weighs as one look", () => {
    const steady = triedAhead(
      Array.from({ length: 40 }, () => 7),
      12,
    );
    expect(Math.max(...steady.squares)).toBeLessThan(1e-20);
    // 24 origins at most, and of those a year ahead the ones with a year to come.
    expect([steady.tries[0], steady.tries[11]]).toEqual([24, 13]);
    expect(spreadAhead([steady], 0.1)[11]).toBeCloseTo(0.1 / Math.sqrt(1 + 13 / 12), 12);
  });
  it("is the stated one alone where the history is short, growing with the root of time", () => {
    const short = triedAhead([5, 6, 7], 12);
    expect(short.tries).toEqual(Array.from({ length: 12 }, () => 0));
    const spread = spreadAhead([short], 0.1);
    expect(spread[11]).toBeCloseTo(0.1, 12);
    expect(spread[2]).toBeCloseTo(0.05, 12);
  });
  it("compares three months' means, of which counted ones are known", () => {
    // Twelve months of 10, then 16: one month ahead a third of the error counts.
    const series = [...Array.from({ length: 12 }, () => 10), 16];
    const { squares, tries } = triedAhead(series, 3);
    expect(tries).toEqual([1, 0, 0]);
    expect(squares[0]).toBeCloseTo((6 / 30) ** 2, 6);
  });
  it("counts no error across a month without a count", () => {
    const series = Array.from({ length: 30 }, (_, at) => (at === 20 ? null : 10));
    const whole = triedAhead(
      series.map(() => 10),
      6,
    );
    const gap = triedAhead(series, 6);
    expect(gap.tries[5]).toBeLessThan((whole.tries[5] ?? 0) - 2);
  });
  it("finds about the spread of a walk whose steps are known", () => {
    // Steps of two percent a month: the mean of three months that ends in a year is off by about
    // 0.02 · √(12 − 1.5) beside what the level had lagged.
    const random = chance(7);
    const found: number[] = [];
    for (let run = 0; run < 60; run += 1) {
      let level = 0;
      const series = Array.from({ length: 60 }, () => {
        const step = Math.sqrt(-2 * Math.log(1 - random.share()));
        level += 0.02 * step * Math.cos(2 * Math.PI * random.share());
        return 100 * Math.exp(level);
      });
      found.push((spreadAhead([triedAhead(series, 12)], 0.07)[11] ?? 0) ** 2);
    }
    const mean = Math.sqrt(found.reduce((sum, one) => sum + one, 0) / found.length);
    expect(mean).toBeGreaterThan(0.055);
    expect(mean).toBeLessThan(0.095);
  });
});
