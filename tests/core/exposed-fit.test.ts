import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NoAnswerError } from "../../src/core/errors.ts";
import { type ExposedLife, likelihoodOf } from "../../src/core/exposed.ts";
import { exposedFit } from "../../src/core/exposed-fit.ts";
import { lifeFit } from "../../src/core/fit.ts";

interface Reference {
  readonly versions: string;
  readonly logs: readonly {
    readonly name: string;
    readonly source: string;
    readonly months: readonly number[];
    readonly failed: readonly number[];
    readonly factors: readonly (readonly number[])[];
    readonly parameters: readonly number[];
    readonly covariance: readonly (readonly number[])[];
    readonly likelihood: readonly [number];
  }[];
}

const reference = JSON.parse(
  readFileSync(new URL("../reference/exposed.json", import.meta.url), "utf8"),
) as Reference;

describe("second implementation", () => {
  it.each(reference.logs)(
    `finds what survreg finds for $name ($source; ${reference.versions})`,
    ({ months, failed, factors, parameters, covariance, likelihood }) => {
      const lives = months.map((one, at): ExposedLife => ({
        ...{ months: one, failed: failed[at] === 1, pace: 1, factors: factors[at] ?? [] },
      }));
      const fit = exposedFit(lives);
      [fit.shape, fit.start, ...fit.effects].forEach((value, at) => {
        expect(value).toBeCloseTo(parameters[at] ?? NaN, 8);
      });
      fit.covariance.flat().forEach((value, at) => {
        expect(value).toBeCloseTo(covariance.flat()[at] ?? NaN, 7);
      });
      expect(likelihoodOf(fit, lives)).toBeCloseTo(likelihood[0], 8);
    },
  );
});

const aLife = fc.record({
  months: fc.double({ min: 0.1, max: 60, noNaN: true }),
  failed: fc.boolean(),
  uses: fc.double({ min: 1, max: 200, noNaN: true }),
});
const aLog = fc
  .array(aLife, { minLength: 12, maxLength: 60 })
  .filter(
    (lives) => new Set(lives.flatMap(({ failed, months }) => (failed ? [months] : []))).size > 4,
  );

describe("properties", () => {
  it("is the plain life where nothing is told of exposure", () => {
    fc.assert(
      fc.property(aLog, (log) => {
        const plain = lifeFit(log);
        const fit = exposedFit(log.map((one) => ({ ...one, pace: 1, factors: [] })));
        expect(fit.shape).toBeCloseTo(plain.shape, 6);
        expect(Math.exp(-fit.start / fit.shape) / plain.scale).toBeCloseTo(1, 6);
      }),
    );
  });
  it("says the same whatever unit uses are counted in, and stands on top of the likelihood", () => {
    fc.assert(
      fc.property(aLog, fc.constantFrom(0.01, 12, 1000), (log, unit) => {
        const counted = (by: number): ExposedLife[] =>
          log.map(({ uses, ...one }) => ({ ...one, pace: 1, factors: [Math.log(uses * by)] }));
        const [fit, other] = [exposedFit(counted(1)), exposedFit(counted(unit))];
        const top = likelihoodOf(fit, counted(1));
        expect(likelihoodOf(other, counted(unit))).toBeCloseTo(top, 6);
        for (const [shape, start, effect] of [
          [1e-3, 0, 0],
          [0, 1e-3, 0],
          [0, 0, 1e-3],
        ] as const) {
          for (const way of [1, -1]) {
            const beside = {
              ...fit,
              shape: fit.shape + way * shape,
              start: fit.start + way * start,
              effects: [(fit.effects[0] ?? NaN) + way * effect],
            };
            expect(likelihoodOf(beside, counted(1))).toBeLessThanOrEqual(top + 1e-9);
          }
        }
      }),
    );
  });
});

describe("no answer", () => {
  const same = { pace: 1, factors: [2] };
  it.each([
    [
      "without a failure",
      [3, 5, 6].map((months) => ({ months, failed: false, ...same, factors: [] })),
    ],
    [
      "where all came at one age",
      [4, 4, 4].map((months) => ({ months, failed: true, ...same, factors: [] })),
    ],
    [
      "where a factor is the same everywhere",
      [3, 5, 6].map((months) => ({ months, failed: true, ...same })),
    ],
    [
      "where nothing with a factor has failed",
      [3, 5, 6, 7].map((months, at) => ({
        months,
        failed: at > 0,
        pace: 1,
        factors: [at > 0 ? 0 : 1],
      })),
    ],
    ["without a record", []],
  ])("%s", (_, lives) => {
    expect(() => exposedFit(lives)).toThrow(NoAnswerError);
  });
});
