import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gammaAtMost, normalAtMost } from "../../src/core/chance.ts";
import { convolution, meanOf } from "../../src/core/distribution.ts";
import type { Life } from "../../src/core/life.ts";
import { firstChances, newCounts, renewals, replacementsBetween } from "../../src/core/renewal.ts";
import type { Published } from "./published.ts";

type Share = (time: number) => number;

const weibull =
  ({ shape, scale }: Life): Share =>
  (time) =>
    time <= 0 ? 0 : -Math.expm1(-((time / scale) ** shape));

/**
 * The renewal function of a continuous life, by the recursion for steps with each life rounded to the
 * nearest one (the midpoint rule of Xie, as in Tijms 8.1). Lives rounded to none are taken up at once.
 */
function coarse(worn: Share, time: number, steps: number): number {
  const h = time / steps;
  const none = worn(h / 2);
  const first = Float64Array.from({ length: steps + 1 }, (_, step) =>
    step === 0 ? 0 : (worn(step * h) - worn((step - 1) * h)) / (1 - none),
  );
  const next = Float64Array.from({ length: steps + 1 }, (_, step) =>
    step === 0 ? 0 : (worn((step + 0.5) * h) - worn((step - 0.5) * h)) / (1 - none),
  );
  return sum(renewals(first, next));
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
  it("Ross, Introduction to Probability Models, chapter 7, two machines, at least 90 by time 100, from memory: .9741 by the normal rule, and near it exactly", () => {
    const variance = 100 / 8 + 100 / 6;
    expect(1 - normalAtMost((89.5 - 100) / Math.sqrt(variance))).toBeCloseTo(0.9741, 4);
    const steps = 1000;
    const h = 100 / steps;
    const lives: readonly Share[] = [(t) => gammaAtMost(2 * t, 4), (t) => Math.min(1, t / 4)];
    const machines = lives.map((worn) => {
      const next = Float64Array.from({ length: steps + 1 }, (_, step) =>
        step === 0 ? 0 : worn((step + 0.5) * h) - (step === 1 ? 0 : worn((step - 0.5) * h)),
      );
      const counts = newCounts(next, steps);
      const part = { first: next, next, counts, expected: next };
      return replacementsBetween(part, [0, steps]);
    });
    const [one, other] = machines;
    if (!one || !other) throw new Error("there are two machines");
    const both = convolution(one, other);
    const atLeast = sum(both.chances.filter((_, at) => both.least + at >= 90));
    expect(Math.abs(atLeast - 0.9741)).toBeLessThan(0.01);
  });
  it("Feller, volume I, chapter XIII, exact recursion on half weeks, Weibull(2.5, 9 months), planned at 52, over 104 (computed, not published)", () => {
    const next = firstChances({ age: 0, scheduled: 52 }, { shape: 2.5, scale: 9 }, 104);
    const expected = renewals(next, next);
    const found = replacementsBetween(
      { first: next, next, expected, counts: newCounts(next, 104) },
      [0, 104],
    );
    const wanted = [
      ...[0, 0, 0.9681519046523194, 0.03122985109353244, 0.0006117573979066915],
      ...[6.440834281927375e-6, 4.5791732391981356e-8, 2.294098796272167e-10],
    ];
    wanted.forEach((value, count) => {
      expect(found.chances[count - found.least] ?? 0).toBeCloseTo(value, 10);
    });
    const mean = meanOf(found);
    const variance = sum(
      found.chances.map((chance, at) => chance * (found.least + at - mean) ** 2),
    );
    expect(sum(expected)).toBeCloseTo(2.032472872711076, 10);
    expect(mean).toBeCloseTo(2.032472872711076, 10);
    expect(variance).toBeCloseTo(0.032681099164002525, 10);
  });
});

/** Every way a part can be replaced within some steps, with its chance: nothing is left out. */
function everyWay(
  chanceAt: (count: number, step: number) => number,
  last: number,
): Map<string, number> {
  const ways = new Map<string, number>();
  const walk = (at: number, times: readonly number[], chance: number): void => {
    let none = chance;
    for (let step = 1; at + step <= last; step += 1) {
      const one = chanceAt(times.length, step);
      if (one > 0) walk(at + step, [...times, at + step], chance * one);
      none -= chance * one;
    }
    ways.set(times.join(), none);
  };
  walk(0, [], 1);
  return ways;
}

const lives = fc.record({
  life: fc.option(
    fc.record({
      shape: fc.double({ min: 0.3, max: 8, noNaN: true }),
      scale: fc.double({ min: 0.05, max: 3, noNaN: true }),
    }),
  ),
  scheduled: fc.integer({ min: 1, max: 6 }),
  age: fc.integer({ min: -4, max: 8 }),
});

describe("second implementation", () => {
  it("counts what every single way of being replaced adds up to, from now and from later", () => {
    const check = fc.property(
      lives,
      fc.integer({ min: 0, max: 6 }),
      ({ life, scheduled, age }, after) => {
        const last = 9;
        const first = firstChances({ age, scheduled }, life, last);
        const next = firstChances({ age: 0, scheduled }, life, scheduled);
        const expected = renewals(first, next);
        const part = { first, next, expected, counts: newCounts(next, last) };
        const { least, chances } = replacementsBetween(part, [after, last]);
        const ways = everyWay((count, step) => (count === 0 ? first : next)[step] ?? 0, last);
        const wanted = new Map<number, number>();
        const perStep = new Float64Array(last + 1);
        for (const [text, chance] of ways) {
          const times = text === "" ? [] : text.split(",").map(Number);
          const count = times.filter((time) => time > after).length;
          wanted.set(count, (wanted.get(count) ?? 0) + chance);
          for (const time of times) perStep[time] = (perStep[time] ?? 0) + chance;
        }
        for (let count = 0; count <= last; count += 1) {
          expect(chances[count - least] ?? 0).toBeCloseTo(wanted.get(count) ?? 0, 12);
        }
        perStep.forEach((value, step) => {
          expect(expected[step]).toBeCloseTo(value, 12);
        });
      },
    );
    fc.assert(check);
  });
  it("expects what a Markov chain of ages expects", () => {
    for (const [age, scheduled] of [
      [0, 26],
      [20, 26],
      [51, 52],
      [7, 78],
    ] as const) {
      const worn = weibull({ shape: 2.5, scale: 9 });
      const h = 3.5 / 30.436875;
      let ages = Array.from({ length: scheduled }, (_, at): number => (at === age ? 1 : 0));
      const first = firstChances({ age, scheduled }, { shape: 2.5, scale: 9 }, 104);
      const next = firstChances({ age: 0, scheduled }, { shape: 2.5, scale: 9 }, scheduled);
      const expected = renewals(first, next);
      for (let step = 1; step <= 104; step += 1) {
        const ends = ages.map((share, at) => {
          const hazard = (worn((at + 1) * h) - worn(at * h)) / (1 - worn(at * h));
          return share * (at + 1 === scheduled ? 1 : hazard);
        });
        const renewed = sum(ends);
        ages = [renewed, ...ages.map((share, at) => share - (ends[at] ?? 0)).slice(0, -1)];
        expect(expected[step]).toBeCloseTo(renewed, 12);
      }
    }
  });
});

describe("properties", () => {
  it("has every part replaced once in the steps it has left, and no chance below zero", () => {
    const check = fc.property(lives, ({ life, scheduled, age }) => {
      const chances = firstChances({ age, scheduled }, life, 20);
      expect(sum(chances)).toBeCloseTo(1, 12);
      expect(Math.min(...chances)).toBeGreaterThanOrEqual(0);
      const later = chances.slice(Math.max(1, scheduled - age) + 1);
      expect(sum(later)).toBe(0);
    });
    fc.assert(check);
  });
  it("replaces at once what is past its scheduled age, and looks no further than asked", () => {
    const life = { shape: 2.5, scale: 9 };
    expect([...firstChances({ age: 60, scheduled: 52 }, life, 2)]).toEqual([0, 1, 0]);
    expect(firstChances({ age: 0, scheduled: 52 }, life, 2)).toHaveLength(3);
    expect([...firstChances({ age: 0, scheduled: 52 }, life, 0)]).toEqual([0]);
  });
  it("replaces at the first inspection a part that by its life cannot be alive", () => {
    expect([...firstChances({ age: 50, scheduled: 52 }, { shape: 1000, scale: 0.01 }, 2)]).toEqual([
      0, 1, 0,
    ]);
  });
  it("approaches one replacement a mean life, whatever the beginning", () => {
    const life = { shape: 2.5, scale: 9 };
    const next = firstChances({ age: 0, scheduled: 52 }, life, 52);
    const mean = sum(next.map((chance, step) => chance * step));
    const expected = renewals(firstChances({ age: 30, scheduled: 52 }, life, 6000), next);
    expect(expected.at(-1)).toBeCloseTo(1 / mean, 9);
  });
});
