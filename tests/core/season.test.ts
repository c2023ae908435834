import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { type Chance, chance } from "../../src/book/demo/chance.ts";
import { combinedPlain, ways } from "../../src/core/ahead.ts";
import { withoutSeason } from "../../src/core/season.ts";
import type { Series } from "../../src/core/smooth.ts";
import { spreadAhead, triedAhead } from "../../src/core/spread.ts";

const python = JSON.parse(
  readFileSync(new URL("../reference/ahead.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly rows: readonly { readonly series: Series; readonly season: readonly number[] }[];
};

const indicesOf = (series: Series): number[] => {
  const { indexAt } = withoutSeason(series);
  return Array.from({ length: 12 }, (_, at) => indexAt(at));
};

/** How many times the mean a month is whose place is this: a swing about 1, highest after three months. */
const swung = (at: number, swing: number): number => 1 + swing * Math.sin((2 * Math.PI * at) / 12);

/** Sessions of months, Poisson about a level with a season. */
const drawn = (random: Chance, { mean, swing, length }: Record<string, number>): number[] =>
  Array.from({ length: length ?? 36 }, (_, at) =>
    random.poisson((mean ?? 1) * swung(at, swing ?? 0)),
  );

const sumOf = (values: Series): number => values.reduce<number>((sum, one) => sum + (one ?? 0), 0);

describe(`second implementation: ${python.made}`, () => {
  it("agrees on every index, and on where there is no season", () => {
    let seasonal = 0;
    for (const { series, season } of python.rows) {
      const found = indicesOf(series);
      season.forEach((index, at) => {
        expect(found[at]).toBeCloseTo(index, 9);
      });
      seasonal += season.some((index) => Math.abs(index - 1) > 1e-9) ? 1 : 0;
    }
    expect(seasonal).toBeGreaterThan(8);
    expect(seasonal).toBeLessThan(python.rows.length / 2);
  });
});

describe("the season of a series", () => {
  const sure = Array.from({ length: 40 }, (_, at) => 100 * swung(at, 0.2));
  it("that comes each year alike is taken out whole, and put back where it belongs", () => {
    const { series, indexAt } = withoutSeason(sure);
    for (const value of series) expect(value).toBeCloseTo(100, 6);
    expect(indexAt(3)).toBeCloseTo(1.2, 6);
    expect(indexAt(40)).toBeCloseTo(swung(40, 0.2), 6);
    ways.combined(sure, 14).forEach((rate, step) => {
      expect(rate).toBeCloseTo(100 * swung(40 + step, 0.2), 5);
    });
  });
  it("is none below three years, and where a gap leaves a month of the year one look", () => {
    expect(withoutSeason(sure.slice(0, 35)).series).toEqual(sure.slice(0, 35));
    expect(withoutSeason(sure.slice(0, 36)).series).not.toEqual(sure.slice(0, 36));
    const holed = sure.map((one, at) => (at === 20 ? null : one));
    expect(withoutSeason(holed).series).toEqual(holed);
    const longer = Array.from({ length: 60 }, (_, at) => (at === 9 ? null : 100 * swung(at, 0.2)));
    expect(withoutSeason(longer).series[9]).toBeNull();
    expect(indicesOf(longer)[3]).toBeCloseTo(1.2, 6);
  });
  it("is none where a month is below half or above double the usual: a pause is no season of births", () => {
    const paused = Array.from({ length: 60 }, (_, at) => (at % 12 === 7 ? 20 : 100));
    expect(withoutSeason(paused).series).toBe(paused);
    const none = Array.from({ length: 60 }, () => 0);
    expect(withoutSeason(none).series).toBe(none);
  });
  it("is found by chance in one of twelve steady series of three years, where F alone would say one of twenty", () => {
    const random = chance(11);
    let found = 0;
    for (let run = 0; run < 2000; run += 1) {
      const series = drawn(random, { mean: 60, swing: 0, length: 36 });
      found += withoutSeason(series).series === series ? 0 : 1;
    }
    // Ratios of a month share what their moving means have in common; measured, no source.
    expect(found / 2000).toBeGreaterThan(0.06);
    expect(found / 2000).toBeLessThan(0.1);
  });
  it("is drawn towards 1 where counts are few: never further out than the ratios", () => {
    const random = chance(5);
    const swings = [30, 3000].map((mean) => {
      let [swing, found] = [0, 0];
      for (let run = 0; run < 400; run += 1) {
        const indices = indicesOf(drawn(random, { mean, swing: 0.12, length: 36 }));
        if (indices.every((index) => index === 1)) continue;
        found += 1;
        // What of the swing the indices hold: a swing of 1 is the true one.
        swing += sumOf(indices.map((index, at) => (index - 1) * (swung(at, 0.12) - 1))) / 0.0864;
      }
      return { swing: swing / found, share: found / 400 };
    });
    expect(swings[0]?.share).toBeLessThan(0.5);
    expect(swings[1]?.share).toBe(1);
    expect(swings[1]?.swing).toBeCloseTo(1, 1);
  });
  it("no longer makes a year's sum hang on the month of the report date", () => {
    const random = chance(3);
    let [before, after] = [0, 0];
    for (let begin = 0; begin < 12; begin += 1) {
      let [said, plain, came] = [0, 0, 0];
      for (let run = 0; run < 60; run += 1) {
        const all = drawn(random, { mean: 600, swing: 0.12, length: 60 + begin }).slice(begin);
        const past = all.slice(0, 48);
        said += sumOf(ways.combined(past, 12));
        plain += sumOf(combinedPlain(past, 12));
        came += sumOf(all.slice(48));
      }
      before = Math.max(before, Math.abs(plain / came - 1));
      after = Math.max(after, Math.abs(said / came - 1));
    }
    // The level's third of it follows the last months; chance leaves a few tenths of a percent.
    expect(before).toBeGreaterThan(0.02);
    expect(after).toBeLessThan(0.008);
  });
  it("is no uncertainty of the year to come", () => {
    const spread = spreadAhead([triedAhead(sure, 12)], 0.05);
    const none = spreadAhead(
      [
        triedAhead(
          sure.map(() => 100),
          12,
        ),
      ],
      0.05,
    );
    expect(spread[11]).toBeCloseTo(none[11] ?? NaN, 6);
  });
});
