import { describe, expect, it } from "vitest";
import type { Life } from "../../src/core/life.ts";
import { type Course, firstEnds, goodShares, inspectionDays } from "../../src/core/renewal.ts";
import { expectedAfter, runningExpected } from "../../src/core/renewal-expected.ts";
import type { Published } from "./published.ts";

// What every single way of being replaced adds up to is held against these in renewal.test.ts.
type Share = (time: number) => number;

const weibull =
  ({ shape, scale }: Life): Share =>
  (time) =>
    time <= 0 ? 0 : -Math.expm1(-((time / scale) ** shape));

/** Days that are all inspections and on which nothing falls due. */
function endless(last: number, good: Float64Array): Course {
  const days = Array.from({ length: last }, (_, at) => at + 1);
  const due = Int32Array.from({ length: last + 1 }, () => 2 * last);
  return { last, inspections: Int32Array.from(days), due, good };
}

/**
 * The renewal function of a continuous life, by the recursion for steps with each life rounded to the
 * nearest one (the midpoint rule of Xie, as in Tijms 8.1). Lives rounded to none are taken up at once.
 */
function coarse(worn: Share, time: number, steps: number): number {
  const h = time / steps;
  const none = worn(h / 2);
  const good = Float64Array.from({ length: steps + 1 }, (_, step) =>
    step === 0 ? 1 : (1 - worn((step + 0.5) * h)) / (1 - none),
  );
  const { numbers, starts } = expectedAfter(endless(steps, good), new Int32Array(steps + 1), 1);
  return sum(
    Array.from({ length: steps }, (_, at) => {
      const first = (worn((at + 1) * h) - worn(at * h)) / (1 - none);
      return first * (numbers[starts[at + 1] ?? 0] ?? 0);
    }),
  );
}

/** Two step sizes and what they tell about none (Richardson). */
function renewalFunction(worn: Share, time: number): number {
  const [wide, narrow] = [coarse(worn, time, 1000), coarse(worn, time, 2000)];
  return narrow + (narrow - wide) / 3;
}

function sum(values: Iterable<number>): number {
  return [...values].reduce((total, value) => total + value, 0);
}

interface Renewed {
  readonly worn: Share;
  readonly time: number;
}

function rows(
  source: string,
  worn: Share,
  values: readonly (readonly [time: number, value: number, decimals: number])[],
): Published<Renewed>[] {
  return values.map(([time, value, decimals]) => ({
    ...{ source: `${source}, t = ${time}`, given: { worn, time }, value, decimals },
  }));
}

const tijms = "Tijms, A First Course in Stochastic Models (2003), table 8.1.1 p. 312, text read";

const table: readonly Published<Renewed>[] = [
  ...rows(
    `${tijms}, Weibull of mean 1 and squared variation 0.25`,
    weibull({ shape: 2.1013490946885423, scale: 1.129063389539609 }),
    [
      [0.1, 0.0061, 4],
      [0.2, 0.0261, 4],
      [0.4, 0.1087, 4],
      [0.6, 0.2422, 4],
      [0.8, 0.4141, 4],
      [1, 0.6091, 4],
      [1.2, 0.8143, 4],
      [1.5, 1.124, 3],
      [2, 1.627, 3],
      [2.5, 2.125, 3],
    ],
  ),
  ...rows(
    `${tijms}, Weibull of mean 1 and squared variation 2`,
    weibull({ shape: 0.7209047424490947, scale: 0.811793351098604 }),
    [
      [0.2, 0.3841, 4],
      [0.5, 0.7785, 4],
      [1, 1.357, 3],
      [1.5, 1.901, 3],
      [2, 2.428, 3],
      [2.5, 2.947, 3],
      [3, 3.46, 3],
      [3.5, 3.969, 3],
      [5, 5.485, 3],
      [7.5, 7.995, 3],
    ],
  ),
];

/** The allowance for closed forms. */
const CLOSE = 2e-6;

describe("published", () => {
  for (const { source, given, value, decimals = 0 } of table) {
    it(`renewal function: ${source}`, () => {
      // A tenth more than half the last digit: at t = 0.8 the table rounds .41405 up.
      const off = Math.abs(renewalFunction(given.worn, given.time) - value);
      expect(off).toBeLessThan(0.6 * 10 ** -decimals);
    });
  }
  it("Cox, Renewal Theory (1962), Erlang life of two stages, closed form, from memory", () => {
    for (const time of [0.5, 1, 2, 3]) {
      const value = time - 1 / 4 + Math.exp(-4 * time) / 4;
      const found = renewalFunction((at) => 1 - (1 + 2 * at) * Math.exp(-2 * at), time);
      expect(Math.abs(found - value)).toBeLessThan(CLOSE);
    }
  });
  it("Feller, volume II; MathWorld, Uniform Sum Distribution: lives even between 0 and 1, closed forms, from memory", () => {
    const { E } = Math;
    const values = [E - 1, E ** 2 - E - 1, E ** 3 - 2 * E ** 2 + E / 2 - 1];
    values.forEach((value, at) => {
      const found = renewalFunction((time) => Math.min(1, Math.max(0, time)), at + 1);
      expect(Math.abs(found - value)).toBeLessThan(CLOSE);
    });
  });
  it("Barlow and Proschan, Mathematical Theory of Reliability (1965), age replacement: in the long run one replacement a mean time to wear, inspection or due day, from memory", () => {
    const last = 20_000;
    const good = goodShares({ shape: 2.5, scale: 9 }, 200);
    const due = Int32Array.from({ length: last + 1 }, (_, fitted) => fitted + 183);
    const course = { last, inspections: inspectionDays(last), due, good };
    const months = new Int32Array(last + 1);
    const begun = firstEnds({ age: 0, due: 183 }, course);
    const [scheduled = NaN, unplanned = NaN] = runningExpected(
      begun,
      expectedAfter(course, months, 1),
      months,
    );
    // The time in service by hand: it ends at the first inspection after wear, or after 183 days.
    const looks = Array.from({ length: 52 }, (_, at) => (at + 1) * 3.5);
    const mean = looks.reduce((time, look, at) => {
      const before = at === 0 ? 0 : (looks[at - 1] ?? 0);
      return time + (look - before) * Math.exp(-((before / 30.436875 / 9) ** 2.5));
    }, 183 - 182);
    const rate = (scheduled + unplanned) / last;
    expect(rate * mean).toBeCloseTo(1, 2);
    const early = unplanned / (scheduled + unplanned);
    expect(early).toBeCloseTo(1 - Math.exp(-((182 / 30.436875 / 9) ** 2.5)), 2);
  });
});
