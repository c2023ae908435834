import { readFileSync } from "node:fs";
import { addMonths as addMonthsTo, getDaysInMonth } from "date-fns";
import { UTCDate } from "@date-fns/utc";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { USEAHEAD } from "../../functions/ahead.ts";
import { isRows } from "../../functions/answer.ts";
import { type AheadOptions, betterWay, type MonthAhead } from "../../src/core/ahead.ts";
import { usageAhead, ways } from "../../src/core/ahead.ts";
import { addMonths, civilDate, type Day, day, daysInMonth } from "../../src/core/day.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { withoutSeason } from "../../src/core/season.ts";
import type { Series } from "../../src/core/smooth.ts";

const first = day("2021-01-01");
const months = (length: number): Day[] => Array.from({ length }, (_, at) => addMonths(first, at));
const daysOf = (date: Day): number => {
  const { year, month } = civilDate(date);
  return daysInMonth(year, month);
};
/** Looks ahead from rates per day, so that what comes back per day can be compared with them. */
function daily(rates: Series, options: AheadOptions): MonthAhead[] {
  const starts = months(rates.length);
  const counts = rates.map((rate, at) =>
    rate === null ? null : rate * daysOf(starts[at] ?? first),
  );
  return usageAhead(counts, starts, { zeroCounts: true, ...options }).map((one) => {
    const per = (value: number | null): number | null =>
      value === null ? null : value / daysOf(one.month);
    return {
      ...one,
      expected: one.expected / daysOf(one.month),
      low: per(one.low),
      high: per(one.high),
    };
  });
}

const python = JSON.parse(
  readFileSync(new URL("../reference/ahead.json", import.meta.url), "utf8"),
) as {
  readonly made: string;
  readonly rows: readonly {
    readonly series: Series;
    readonly fit: { readonly alpha: number };
    readonly combined: readonly number[];
    readonly reach: readonly (number | null)[];
  }[];
};

describe(`second implementation: ${python.made}`, () => {
  it("agrees on the default fourteen months ahead, with gaps, from 3 to 60 months", () => {
    for (const { series, combined } of python.rows) {
      const found = daily(series, { months: 14 });
      combined.forEach((value, step) => {
        expect(Math.abs((found[step]?.expected ?? NaN) - value)).toBeLessThan(1e-5 * (1 + value));
      });
    }
  });
  it("agrees on the limits of the next three months, and on where there are none", () => {
    let some = 0;
    for (const { series, reach } of python.rows) {
      const found = daily(series, { months: 3 });
      reach.forEach((value, step) => {
        const { high = NaN, expected = NaN } = found[step] ?? {};
        if (value === null || high === null) expect(high).toBe(value);
        else expect(Math.abs(high - expected - value)).toBeLessThan(1e-4 * (1 + value));
        some += value === null ? 0 : 1;
      });
    }
    expect(some).toBeGreaterThan(50);
  });
  it("months come one after the other, as date-fns counts them", () => {
    const found = usageAhead([5, 6, 7], months(3), { months: 60 });
    found.forEach(({ month }, step) => {
      const date = addMonthsTo(new UTCDate(2021, 3, 1), step);
      const { year, month: number, dayOfMonth } = civilDate(month);
      expect([year, number, dayOfMonth]).toEqual([date.getFullYear(), date.getMonth() + 1, 1]);
      expect(daysOf(month)).toBe(getDaysInMonth(date));
    });
  });
});

const rate = fc.integer({ min: 1, max: 90 });
const rates = fc
  .tuple(fc.array(fc.option(rate, { freq: 5 }), { maxLength: 45 }), rate, rate, rate)
  .map(([some, ...last]): Series => [...some, ...last]);
const known = (series: Series): number[] => series.filter((one) => one !== null);

describe("properties", () => {
  it("the same use every day gives the days of each month, whatever is missing", () => {
    const check = fc.property(fc.array(fc.boolean(), { maxLength: 50 }), rate, (gaps, one) => {
      const series = [...gaps.map((gap) => (gap ? null : one)), one, one, one];
      for (const { expected, low, high } of daily(series, { months: 13 })) {
        expect(expected).toBeCloseTo(one, 8);
        if (low !== null) expect([low - one, (high ?? NaN) - one].map(Math.round)).toEqual([0, 0]);
      }
    });
    fc.assert(check);
  });
  it("stays within the rates seen, their season apart, so that no gap is taken for zero", () => {
    const check = fc.property(rates, (series) => {
      const { series: plain, indexAt } = withoutSeason(series);
      const values = known(plain);
      daily(series, { months: 14 }).forEach(({ expected }, step) => {
        const rate = expected / indexAt(series.length + step);
        expect(rate).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
        expect(rate).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      });
    });
    fc.assert(check);
  });
  it("a gap in last year's month never takes the month ahead below the others' mean", () => {
    const long = fc
      .tuple(fc.array(rate, { minLength: 12, maxLength: 12 }), rates)
      .map(([some, more]): Series => [...some, ...more]);
    const check = fc.property(long, (series) => {
      const holed = series.map((one, at) => (at === series.length - 12 ? null : one));
      const { series: plain, indexAt } = withoutSeason(holed);
      const [level = NaN] = ways["best level"](plain, 1);
      const [year = NaN] = ways["twelve months"](plain, 1);
      const found = (ways.combined(holed, 1)[0] ?? NaN) / indexAt(holed.length);
      expect(found).toBeGreaterThanOrEqual((level + year) / 2 - 1e-9);
    });
    fc.assert(check);
  });
  it("limits hold the expected use, never fall below zero and grow with the level", () => {
    const check = fc.property(rates, (series) => {
      const narrow = daily(series, { months: 4, level: 0.5 });
      const wide = daily(series, { months: 4, level: 0.99 });
      narrow.forEach(({ low, expected, high }, step) => {
        const { low: lower = null, high: higher = null } = wide[step] ?? {};
        expect(low === null).toBe(high === null);
        if (low === null || high === null || lower === null || higher === null) return;
        expect(low).toBeGreaterThanOrEqual(0);
        expect(low).toBeLessThanOrEqual(expected);
        expect(high).toBeGreaterThanOrEqual(expected);
        expect(lower).toBeLessThanOrEqual(low);
        expect(higher).toBeGreaterThanOrEqual(high);
      });
    });
    fc.assert(check);
  });
  it("twice the use, twice the months ahead", () => {
    const check = fc.property(rates, fc.constantFrom(...Object.keys(ways)), (series, name) => {
      fc.pre(name !== "season" || series.length >= 24);
      const way = name as keyof typeof ways;
      const one = ways[way](series, 3);
      const two = ways[way](
        series.map((value) => (value === null ? null : value * 2)),
        3,
      );
      expect(two).toEqual(one.map((value) => value * 2));
    });
    fc.assert(check);
  });
  it("the order of the rows is nothing to it; rows without a count are nothing to it", () => {
    const check = fc.property(rates, fc.integer({ min: 0, max: 12 }), (series, blank) => {
      const starts = months(series.length + blank);
      const counts: Series = [...series, ...Array.from({ length: blank }, () => null)];
      const plain = usageAhead(series, months(series.length), { months: 3 });
      expect(usageAhead([...counts].reverse(), [...starts].reverse(), { months: 3 })).toEqual(
        plain,
      );
    });
    fc.assert(check);
  });
  it("a later entry for a month replaces the earlier", () => {
    const [a, b, c] = months(3) as [Day, Day, Day];
    const found = usageAhead([900, 31, 28, 31], [a, a, b, c], { months: 1 });
    expect(found).toEqual(usageAhead([31, 28, 31], [a, b, c], { months: 1 }));
  });
  it("a zero is a month without use only where that is said", () => {
    const starts = months(4);
    expect(usageAhead([31, 28, 31, 0], starts, { months: 1 })[0]?.month).toBe(day("2021-04-01"));
    const [zero] = usageAhead([31, 28, 31, 0], starts, { months: 1, zeroCounts: true });
    expect(zero?.month).toBe(day("2021-05-01"));
    expect(zero?.expected).toBeLessThan(31);
  });
  it("limits are blank below six tries: from the 9th count on for the next month", () => {
    for (const length of [3, 8, 9, 10, 20]) {
      const counts = Array.from({ length }, (_, at) => 100 + (at % 5));
      const found = usageAhead(counts, months(length), { months: 12 });
      expect(found.map(({ low }) => low !== null)).toEqual(
        found.map((_, step) => length - 3 - step >= 6),
      );
    }
  });
  it("looks back 20 years and no further", () => {
    const old = day("1950-06-01");
    const counts = [9999, 31, 28, 31];
    const found = usageAhead(counts, [old, ...months(3)], { months: 1 });
    expect(found).toEqual(usageAhead(counts.slice(1), months(3), { months: 1 }));
    expect(() => usageAhead([1, 2, 3], [old, ...months(2)], { months: 1 })).toThrow(NoAnswerError);
  });
});

describe("the better way", () => {
  const wave = [0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.3, 1.2, 1.1, 1, 0.9, 0.8];
  const seasonal = Array.from({ length: 60 }, (_, at) => 100 * (wave[at % 12] ?? 1));
  it("is another one only where it is clearly better", () => {
    expect(betterWay(seasonal)).toBe("last year");
    const auto = daily(seasonal, { months: 12, way: "auto" });
    expect(auto.map(({ expected }) => Math.round(expected))).toEqual(
      wave.map((one) => Math.round(100 * one)),
    );
  });
  it("has an error 10% below the default's, and none has less; or it is the default", () => {
    const long = fc.array(rate, { minLength: 32, maxLength: 50 });
    const found = new Set<string>();
    const check = fc.property(long, fc.integer({ min: 0, max: 3 }), (noise, season) => {
      const series = noise.map((one, at) => one + season * 30 * (wave[at % 12] ?? 1));
      const errors = Object.entries(ways).map(([name, way]): [string, number] => {
        if (name === "season" && series.length < 48) return [name, Infinity];
        const squares: number[] = [];
        for (let at = 24; at < series.length; at += 1) {
          way(series.slice(0, at), 3).forEach((one, step) => {
            const came = series[at + step];
            if (came !== undefined) squares.push((came - one) ** 2);
          });
        }
        return [name, Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length)];
      });
      const [best = ["combined", 0]] = [...errors].sort(([, one], [, other]) => one - other);
      const limit = 0.9 * (errors.find(([name]) => name === "combined")?.[1] ?? 0);
      const name = betterWay(series);
      found.add(name);
      expect(name).toBe(best[1] < limit ? best[0] : "combined");
    });
    fc.assert(check);
    expect(found.size).toBeGreaterThan(2);
  });
  it("is the default below 32 counts", () => {
    expect(betterWay(seasonal.slice(0, 31))).toBe("combined");
    expect(betterWay(seasonal.slice(0, 32))).toBe("last year");
    expect(betterWay([])).toBe("combined");
  });
  it("is the smoothed season only from 48 counts on", () => {
    const growing = seasonal.map((one, at) => one + 3 * at + 4 * ((at * 7) % 3));
    expect(betterWay(growing.slice(0, 47))).not.toBe("season");
    expect(betterWay(growing.slice(0, 48))).toBe("season");
  });
  it("takes the mean of the last twelve for a month of the year that was never counted", () => {
    expect(ways["last year"]([10, 20, 30], 1)).toEqual([20]);
  });
  it("is found and used with gaps, and every way answers by its name", () => {
    const holed = seasonal.map((one, at) => (at % 11 === 5 ? null : one));
    const auto = daily(holed, { months: 3, way: "auto" });
    expect(auto).toEqual(daily(holed, { months: 3, way: betterWay(holed) }));
    for (const name of Object.keys(ways)) {
      const found = daily(holed, { months: 3, way: name as keyof typeof ways });
      expect(found.every(({ expected }) => expected > 50 && expected < 150)).toBe(true);
    }
  });
});

describe("bad input", () => {
  const good: [Series, Day[]] = [[1, 2, 3], months(3)];
  it("names what is wrong", () => {
    const faults: readonly [() => unknown, string][] = [
      [
        () => usageAhead(...good, { months: 0 }),
        "months must be a whole number of at least 1, got 0",
      ],
      [
        () => usageAhead(...good, { months: 1, level: 1 }),
        "level must be above 0 and below 1, got 1",
      ],
      [() => usageAhead([1, -2, 3], good[1], { months: 1 }), "counts must be zero or more, got -2"],
      [
        () => usageAhead([1], good[1], { months: 1 }),
        "monthStarts must be as long as counts (1), got 3",
      ],
    ];
    for (const [run, message] of faults) {
      expect(run).toThrow(InputError);
      expect(run).toThrow(message);
    }
  });
  it("has no answer below three counts, zeros and blanks left out", () => {
    const run = (): unknown => usageAhead([1, 0, null, 2], months(4), { months: 1 });
    expect(run).toThrow(NoAnswerError);
    expect(run).toThrow("needs at least 3 months with a count");
    expect(() => usageAhead([], [], { months: 1 })).toThrow(NoAnswerError);
  });
});

describe("in a cell", () => {
  it("spills month start, low, expected, high; limits that are not there are blank", () => {
    const counts = Array.from({ length: 12 }, (_, at) => 90 + at);
    const found = USEAHEAD.call([counts, months(12), 5]);
    const rows = isRows(found) ? found : [];
    expect(rows.map(([start]) => start)).toEqual(
      [0, 1, 2, 3, 4].map((at) => addMonths(day("2022-01-01"), at)),
    );
    expect(rows.map(([, low, , high]) => [typeof low, typeof high])).toEqual([
      ...Array.from({ length: 4 }, () => ["number", "number"]),
      ["string", "string"],
    ]);
  });
  it("takes a zero, as some hosts hand over a blank, for no count", () => {
    const starts = months(6);
    const blank = USEAHEAD.call([[90, 91, "", 93, null, ""], starts, 1]);
    expect(USEAHEAD.call([[90, 91, 0, 93, 0, 0], starts, 1])).toEqual(blank);
  });
});
