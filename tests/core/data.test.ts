import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { accuracy, type Way } from "../../src/core/accuracy.ts";
import { betterWay, combinedPlain, usageAhead, ways } from "../../src/core/ahead.ts";
import { civilDay, daysInMonth } from "../../src/core/day.ts";
import { complianceText } from "../../src/core/compliance.ts";
import type { Series } from "../../src/core/smooth.ts";

/** Rows of an open table, numbers by column; see reference/data/SOURCES.md. */
function table(name: string): { readonly name: string; readonly of: (column: string) => number }[] {
  const text = readFileSync(new URL(`../reference/data/${name}.csv`, import.meta.url), "utf8");
  const [head = "", ...lines] = text.trim().split(/\r?\n/);
  const columns = head.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    const of = (column: string): number => Number(cells[columns.indexOf(column)] ?? NaN);
    return { name: cells[0] ?? "", of };
  });
}

/** A percentage of one decimal in tenths, halves rounded up, in whole numbers. */
const tenths = (some: number, all: number): number => Math.floor((2000 * some + all) / (2 * all));

type Percent = readonly [part: string, whole: string, printed: string];

describe("CDC, screening of newborns 2022 and 2015 (tables read): every percentage as printed", () => {
  const checkAll = (name: string, percents: readonly Percent[]): void => {
    const rows = table(name);
    for (const row of rows) {
      for (const [part, whole, printed] of percents) {
        const [some, all] = [row.of(part), row.of(whole)];
        const title = `${row.name}: ${part} of ${whole}`;
        expect([title, tenths(some, all)]).toEqual([title, Math.round(row.of(printed) * 10)]);
        // What we print is rounded down: the same digit, or one less.
        const ours = Number(complianceText(Math.min(some, all), all).slice(0, -1));
        expect([0, 1]).toContain(Math.round(row.of(printed) * 10) - Math.round(ours * 10));
      }
    }
  };
  it("57 of 57 in 2022", () => {
    expect(table("ehdi2022").length * 3).toBe(57);
    checkAll("ehdi2022", [
      ["screened", "births_ehdi", "pct_screened_ehdi"],
      ["screened", "births_vital_records", "pct_screened_vr"],
      ["lfu_total", "births_ehdi", "pct_lfu"],
    ]);
  });
  it("63 of 63 in 2015", () => {
    expect(table("ehdi2015_by1mo").length * 3).toBe(63);
    checkAll("ehdi2015_by1mo", [
      ["pass_b1m", "pass", "pct_pass_b1m"],
      ["not_pass_b1m", "not_pass", "pct_not_pass_b1m"],
      ["total_b1m", "screened", "pct_b1m"],
    ]);
  });
  it("parts add up to their whole in every row", () => {
    for (const { name, of } of table("ehdi2022")) {
      const parts = of("lfu_unresponsive") + of("lfu_unable") + of("lfu_unknown");
      expect([name, parts]).toEqual([name, of("lfu_total")]);
    }
    for (const { name, of } of table("ehdi2015_by1mo")) {
      expect([name, of("pass") + of("not_pass")]).toEqual([name, of("screened")]);
      expect([name, of("pass_b1m") + of("not_pass_b1m")]).toEqual([name, of("total_b1m")]);
    }
  });
  it("sums of the 19 rows of 2022 (computed, not published)", () => {
    const rows = table("ehdi2022");
    const sum = (column: string): number => rows.reduce((all, { of }) => all + of(column), 0);
    const columns = ["births_ehdi", "births_vital_records", "screened", "not_pass"];
    expect(columns.map(sum)).toEqual([1_330_184, 1_330_732, 1_310_087, 22_279]);
    expect(complianceText(sum("screened"), sum("births_ehdi"), 2)).toBe("98.48%");
    expect(tenths(10 * sum("screened"), sum("births_ehdi"))).toBe(9849);
  });
  it("472 of 473 in the Northern Mariana Islands is 99.8% in the table and 99.7% when rounded down", () => {
    expect([tenths(472, 473), complianceText(472, 473)]).toEqual([998, "99.7%"]);
  });
});

const births = (name: string): { year: number; month: number; count: number }[] =>
  table(name).map(({ of }) => ({ year: of("year"), month: of("month"), count: of("births") }));

const perDay = (rows: ReturnType<typeof births>): number[] =>
  rows.map(({ year, month, count }) => count / daysInMonth(year, month));

/** Mean scaled error of the next twelve months over every origin from the fourth year on. */
function meanError(series: readonly number[], way: Way): number {
  const errors: number[] = [];
  for (let at = 48; at + 12 <= series.length; at += 1) {
    const past = series.slice(0, at);
    errors.push(accuracy(series.slice(at), way(past, 12), past)?.mase ?? NaN);
  }
  return errors.reduce((sum, one) => sum + one, 0) / errors.length;
}

const names = Object.keys(ways) as (keyof typeof ways)[];
const KNOW_A_SEASON: readonly (typeof names)[number][] = ["combined", "last year", "season"];
const errorsOf = (series: readonly number[]): Record<string, number> =>
  Object.fromEntries(names.map((name) => [name, meanError(series, ways[name])]));
const rounded = (errors: Record<string, number>): Record<string, number> =>
  Object.fromEntries(Object.entries(errors).map(([name, one]) => [name, Number(one.toFixed(3))]));

const python = JSON.parse(
  readFileSync(new URL("../reference/ahead.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly births: Readonly<
    Record<
      string,
      { readonly "a day": Record<string, number>; readonly "a month": Record<string, number> }
    >
  >;
};

const nation = { nchs: births("nchs_monthly"), ssa: births("ssa_monthly") };

describe("births of a nation by month: the scaled error of each way, as measured", () => {
  it("2014 and its quarters add up (computed, not published)", () => {
    const counts = nation.ssa.filter(({ year }) => year === 2014).map(({ count }) => count);
    const quarter = (at: number): number =>
      counts.slice(3 * at, 3 * at + 3).reduce((sum, one) => sum + one, 0);
    expect([0, 1, 2, 3].map(quarter)).toEqual([957_128, 986_513, 1_064_039, 1_002_852]);
  });
  for (const [name, rows] of Object.entries(nation)) {
    it(`${name}: second implementation, ${python.made}, counts per day and per month`, () => {
      const wanted = python.births[`${name}_monthly`];
      const found = {
        day: errorsOf(perDay(rows)),
        month: errorsOf(rows.map(({ count }) => count)),
      };
      for (const way of names) {
        expect(found.day[way]).toBeCloseTo(wanted?.["a day"][way] ?? NaN, 4);
        expect(found.month[way]).toBeCloseTo(wanted?.["a month"][way] ?? NaN, 4);
      }
    });
  }
  it("chance is small and the season all: ways that know it beat those that do not by far", () => {
    expect(rounded(errorsOf(perDay(nation.nchs)))).toEqual({
      combined: 0.934,
      "last month": 2.479,
      "last year": 1.068,
      "twelve months": 1.873,
      level: 1.945,
      "best level": 2.455,
      trend: 2.199,
      season: 1.002,
    });
    expect(rounded(errorsOf(perDay(nation.ssa)))).toEqual({
      combined: 1.111,
      "last month": 2.255,
      "last year": 1.198,
      "twelve months": 1.81,
      level: 1.852,
      "best level": 2.193,
      trend: 2.014,
      season: 1.006,
    });
    // The default knows the season itself, so that no other way is clearly better.
    expect(betterWay(perDay(nation.ssa))).toBe("combined");
    expect(betterWay(perDay(nation.nchs))).toBe("combined");
  });
  it("counting per day makes every way that knows no season better", () => {
    for (const rows of Object.values(nation)) {
      const day = errorsOf(perDay(rows));
      const month = errorsOf(rows.map(({ count }) => count));
      for (const way of names.filter((one) => !KNOW_A_SEASON.includes(one))) {
        expect(day[way]).toBeLessThan(month[way] ?? 0);
      }
    }
  });
});

/**
 * How far off the coming year's sum is said from every month on with three years behind it, five at most: in percent
 * the mean without sign, and how far apart the means of origins in one month of the year are.
 */
function yearSums(rows: ReturnType<typeof births>, way: Way): { off: number; apart: number } {
  const rates = perDay(rows);
  const days = rows.map(({ year, month }) => daysInMonth(year, month));
  const sumFrom = (from: number, one: Series): number =>
    one.reduce<number>((sum, rate, step) => sum + (rate ?? 0) * (days[from + step] ?? 0), 0);
  const byMonth = Array.from({ length: 12 }, (): number[] => []);
  for (let at = 36; at + 12 <= rates.length; at += 1) {
    const said = sumFrom(at, way(rates.slice(Math.max(0, at - 60), at), 12));
    byMonth[at % 12]?.push(100 * (said / sumFrom(at, rates.slice(at, at + 12)) - 1));
  }
  const mean = (values: number[]): number =>
    values.reduce((sum, one) => sum + one, 0) / values.length;
  const means = byMonth.map(mean);
  const fixed = (one: number): number => Number(one.toFixed(2));
  const off = fixed(mean(byMonth.flat().map(Math.abs)));
  return { off, apart: fixed(Math.max(...means) - Math.min(...means)) };
}

describe("the sum of the coming year's births of a nation, from every month on, as measured", () => {
  it("no longer hangs on the month it is said in, and is less far off", () => {
    expect(yearSums(nation.nchs, combinedPlain)).toEqual({ off: 1.1, apart: 2.63 });
    expect(yearSums(nation.nchs, ways.combined)).toEqual({ off: 0.93, apart: 0.34 });
    expect(yearSums(nation.ssa, combinedPlain)).toEqual({ off: 1.56, apart: 3.27 });
    expect(yearSums(nation.ssa, ways.combined)).toEqual({ off: 1.4, apart: 0.22 });
  });
});

/** Whole numbers below 2³², even and without memory enough for drawing: a counter, stirred. */
function drawing(seed: number): () => number {
  let count = Math.imul(seed, 0x9e3779b1);
  return () => {
    count = (count + 0x9e3779b9) | 0;
    let mixed = Math.imul(count ^ (count >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return (mixed ^ (mixed >>> 16)) >>> 0;
  };
}

/** A programme with about so many babies a month, drawn from the nation's: chance as it comes with few. */
function programme(size: number, seed: number): number[] {
  const draw = drawing(seed);
  return nation.ssa.map(({ year, month, count }) => {
    // Fifty candidates for each baby expected, each taken with one chance in fifty.
    let drawn = 0;
    for (let left = Math.round((50 * size * count) / 343_000); left > 0; left -= 1) {
      if (draw() < 2 ** 32 / 50) drawn += 1;
    }
    return drawn / daysInMonth(year, month);
  });
}

describe("programmes of a size, drawn from the nation's births: the scaled error of each way, as measured", () => {
  const meanOf = (size: number): Record<string, number> => {
    const all = [1, 2, 3, 4].map((seed) => errorsOf(programme(size, seed)));
    return rounded(
      Object.fromEntries(
        names.map((way) => [
          way,
          all.reduce((sum, one) => sum + (one[way] ?? NaN), 0) / all.length,
        ]),
      ),
    );
  };
  it("1,000 babies a month: the default is the best of all", () => {
    expect(meanOf(1_000)).toEqual({
      combined: 0.889,
      "last month": 1.402,
      "last year": 1.075,
      "twelve months": 1.053,
      level: 1.083,
      "best level": 1.127,
      trend: 1.203,
      season: 0.988,
    });
  });
  it("100 babies a month: the default is within 2% of the best, which uses no season", () => {
    expect(meanOf(100)).toEqual({
      combined: 0.794,
      "last month": 1.048,
      "last year": 1.006,
      "twelve months": 0.781,
      level: 0.791,
      "best level": 0.785,
      trend: 0.872,
      season: 0.936,
    });
  });
  it("40 babies a month: the default is within 2.1% of the best, which uses no season", () => {
    expect(meanOf(40)).toEqual({
      combined: 0.792,
      "last month": 1.076,
      "last year": 1.031,
      "twelve months": 0.785,
      level: 0.797,
      "best level": 0.776,
      trend: 0.882,
      season: 0.994,
    });
  });
  it("the other way is hardly ever taken where the default is best", () => {
    const picks = [1, 2, 3, 4].map((seed) => betterWay(programme(1_000, seed)));
    expect(picks).toEqual(["combined", "combined", "combined", "combined"]);
  });
  it("limits of 80% held 77% of the months to come, at 300 babies a month", () => {
    let [held, all] = [0, 0];
    for (const seed of [1, 2, 3, 4]) {
      const series = programme(300, seed);
      const starts = nation.ssa.map(({ year, month }) => civilDay(year, month, 1));
      const counts = nation.ssa.map(({ year, month }, at) =>
        Math.round((series[at] ?? 0) * daysInMonth(year, month)),
      );
      for (let at = 24; at < counts.length; at += 3) {
        const [next] = usageAhead(counts.slice(0, at), starts.slice(0, at), { months: 1 });
        const came = counts[at] ?? NaN;
        all += 1;
        if (came >= (next?.low ?? Infinity) && came <= (next?.high ?? -Infinity)) held += 1;
      }
    }
    expect([held, all]).toEqual([161, 208]);
  });
});
