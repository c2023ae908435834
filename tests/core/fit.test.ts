import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { LIFEFIT } from "../../functions/life.ts";
import { InputError, NoAnswerError } from "../../src/core/errors.ts";
import { fitLimits, lifeFit } from "../../src/core/fit.ts";
import type { Life, Lifetime } from "../../src/core/life.ts";
import type { Published } from "./published.ts";

/** Ages of failures and of other ends as a log. */
function log(failed: readonly number[], others: readonly number[]): Lifetime[] {
  return [
    ...failed.map((months) => ({ months, failed: true })),
    ...others.map((months) => ({ months, failed: false })),
  ];
}

function repeat(months: number, times: number): number[] {
  return Array.from({ length: times }, () => months);
}

/** The logarithm of the likelihood, written out. */
function likelihood({ shape, scale }: Life, lifetimes: readonly Lifetime[]): number {
  return lifetimes.reduce((sum, { months, failed, entryAge = 0 }) => {
    const lasts = (entryAge / scale) ** shape - (months / scale) ** shape;
    const density = Math.log(shape / scale) + (shape - 1) * Math.log(months / scale);
    return sum + lasts + (failed ? density : 0);
  }, 0);
}

const tenOfTwenty = log([54, 187, 216, 240, 244, 335, 361, 373, 375, 386], repeat(500, 10));

const bearings = log(
  [
    ...[17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8],
    ...[68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4],
  ],
  [],
);

const fans = log(
  [450, 1150, 1150, 1600, 2070, 2070, 2080, 3100, 3450, 4600, 6100, 8750],
  [
    ...[460, 1560, 1660, ...repeat(1850, 5), ...repeat(2030, 3), 2200, ...repeat(3000, 4), 3200],
    ...[3750, 3750, ...repeat(4150, 4), ...repeat(4300, 4), ...repeat(4850, 4), ...repeat(5000, 3)],
    ...[...repeat(6100, 3), 6300, 6450, 6450, 6700, 7450, 7800, 7800, 8100, 8100, 8200],
    ...[...repeat(8500, 3), 8750, 8750, 9400, 9900, ...repeat(10100, 3), 11500],
  ],
);

interface Fitted {
  readonly shape: readonly [value: number, decimals: number];
  readonly scale: readonly [value: number, decimals: number];
  readonly logLikelihood?: number;
}

const table: readonly Published<readonly Lifetime[], Fitted>[] = [
  {
    source:
      "NIST/SEMATECH e-Handbook 8.4.1.2, ten failures and ten suspended at 500 hours, from memory",
    given: tenOfTwenty,
    // The page prints 606.5280; the optimum itself is 606.52756.
    value: { shape: [1.7208, 4], scale: [606.528, 3], logLikelihood: -75.135 },
  },
  {
    source:
      "Nelson 1982, 70 diesel fans: data read, estimates as in Meeker and Escobar from memory",
    given: fans,
    value: { shape: [1.058, 3], scale: [26297, 0] },
  },
  {
    source: "Lieblein and Zelen 1956, 23 ball bearings, fit as in Lawless, from memory",
    given: bearings,
    value: { shape: [2.102, 3], scale: [81.88, 2], logLikelihood: -113.691 },
  },
];

describe("published", () => {
  for (const { source, given, value } of table) {
    it(`Weibull maximum likelihood: ${source}`, () => {
      const fit = lifeFit(given);
      expect(fit.shape).toBeCloseTo(...value.shape);
      expect(fit.scale).toBeCloseTo(...value.scale);
      if (value.logLikelihood === undefined) return;
      expect(likelihood(fit, given)).toBeCloseTo(value.logLikelihood, 3);
    });
  }
});

interface Reference {
  readonly versions: string;
  readonly months: readonly number[];
  readonly worn: readonly number[];
  readonly seenFrom: readonly number[];
  readonly weibull: {
    readonly scale: readonly [number];
    readonly shape: readonly [number];
    readonly variances: readonly [number, number, number];
  };
  readonly truncated: { readonly scale: readonly [number]; readonly shape: readonly [number] };
}

const reference = JSON.parse(
  readFileSync(new URL("../reference/life.json", import.meta.url), "utf8"),
) as Reference;

const lifetimes = reference.months.map((months, at) => ({
  months,
  failed: reference.worn[at] === 1,
}));
const late = lifetimes.map((one, at) => ({ ...one, entryAge: reference.seenFrom[at] ?? 0 }));

describe("second implementation", () => {
  it(`finds what survreg finds, with its variances (${reference.versions})`, () => {
    const { weibull } = reference;
    const { shape, scale, covariance } = lifeFit(lifetimes);
    expect(shape).toBeCloseTo(weibull.shape[0], 8);
    expect(scale).toBeCloseTo(weibull.scale[0], 8);
    const found = [covariance.scale, covariance.shape, covariance.both];
    found.forEach((value, at) => {
      expect(value).toBeCloseTo(weibull.variances[at] ?? NaN, 8);
    });
  });
  it(`finds the optimum of the truncated likelihood (${reference.versions}, optim)`, () => {
    const { shape, scale } = lifeFit(late);
    expect(shape).toBeCloseTo(reference.truncated.shape[0], 4);
    expect(scale).toBeCloseTo(reference.truncated.scale[0], 4);
  });
  for (const [name, data] of [
    ["suspended at one time", tenOfTwenty],
    ["many suspended", fans],
    ["complete", bearings],
    ["some seen late", late],
  ] as const) {
    it(`stands on top of the likelihood, curved as the covariance says: ${name}`, () => {
      const { shape, scale, covariance } = lifeFit(data);
      const at = (u: number, v: number): number =>
        likelihood({ scale: scale * Math.exp(u), shape: shape * Math.exp(v) }, data);
      const [top, h] = [at(0, 0), 1e-4];
      for (const turn of [0, 0.7, 1.6, 2.4, 3.3, 4.5, 5.5]) {
        expect(at(h * Math.cos(turn), h * Math.sin(turn))).toBeLessThan(top);
      }
      const curve = (du: number, dv: number): number =>
        -(at(du * h, dv * h) - 2 * top + at(-du * h, -dv * h)) / h ** 2;
      const [uu, vv] = [curve(1, 0), curve(0, 1)];
      const uv = (curve(1, 1) - uu - vv) / 2;
      const determinant = uu * vv - uv ** 2;
      expect(covariance.scale / (vv / determinant)).toBeCloseTo(1, 3);
      expect(covariance.shape / (uu / determinant)).toBeCloseTo(1, 3);
      expect(covariance.both / (-uv / determinant)).toBeCloseTo(1, 2);
    });
  }
});

const ages = fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 3, maxLength: 30 });

describe("properties", () => {
  it("does not care in which unit time is counted, and counts every record", () => {
    const check = fc.property(
      ages,
      ages,
      fc.integer({ min: 1, max: 1000 }),
      (worn, others, unit) => {
        fc.pre(new Set(worn).size > 1);
        const once = lifeFit(log(worn, others));
        const other = lifeFit(log(worn, others).map((s) => ({ ...s, months: s.months * unit })));
        expect(other.shape / once.shape).toBeCloseTo(1, 9);
        expect(other.scale / (unit * once.scale)).toBeCloseTo(1, 9);
        expect(other.covariance.shape / once.covariance.shape).toBeCloseTo(1, 6);
        expect([once.used, once.failures]).toEqual([worn.length + others.length, worn.length]);
      },
    );
    fc.assert(check);
  });
  it("has the shape inside its limits, narrower at a lower level", () => {
    const fit = lifeFit(lifetimes);
    const [wide, narrow] = [fitLimits(fit, 0.95), fitLimits(fit, 0.5)];
    for (const name of ["shape", "scale"] as const) {
      expect(wide[name].low).toBeLessThan(narrow[name].low);
      expect(narrow[name].low).toBeLessThan(fit[name]);
      expect(fit[name]).toBeLessThan(narrow[name].high);
      expect(narrow[name].high).toBeLessThan(wide[name].high);
    }
    // ln shape ± 1.959964 standard errors.
    const width = Math.log(wide.shape.high / fit.shape);
    expect(width / Math.sqrt(fit.covariance.shape)).toBeCloseTo(1.959964, 6);
  });
  it("gives longer lives the more parts run on", () => {
    const scales = [0, 1, 5, 20].map((more) => lifeFit(log([3, 5, 6], repeat(7, more))).scale);
    expect(scales).toEqual([...scales].sort((a, b) => a - b));
  });
  it("leaves out records without time in use, and those never seen", () => {
    const more = [...log([], [0, 0]), { months: 4, failed: false, entryAge: 4 }];
    const plain = lifeFit(log([3, 5, 6], [7]));
    expect(lifeFit([...log([3, 5, 6], [7]), ...more])).toEqual(plain);
    expect(plain.used).toBe(4);
  });
  it("takes a part seen from its beginning as one without a word about it", () => {
    const seen = log([3, 5, 6], [7]).map((one) => ({ ...one, entryAge: 0 }));
    expect(lifeFit(seen)).toEqual(lifeFit(log([3, 5, 6], [7])));
  });
});

describe("bad input", () => {
  const none: readonly [readonly Lifetime[], string][] = [
    [[], "needs at least 3 worn ends, got 0"],
    [log([3, 5], repeat(6, 50)), "needs at least 3 worn ends, got 2"],
    [log([0, 3, 5], []), "needs at least 3 worn ends, got 2"],
    [log([5, 5, 5, 5], [6]), "needs worn ends of different ages, all are the same"],
  ];
  for (const [given, message] of none) {
    it(`says: ${message} (${given.length} records)`, () => {
      expect(() => lifeFit(given)).toThrow(NoAnswerError);
      expect(() => lifeFit(given)).toThrow(message);
    });
  }
  it("says so where no shape follows from parts seen late", () => {
    const falling = [0.01, 0.02, 0.03, 9].map((more) => ({
      ...{ months: 10 + more, failed: more < 1, entryAge: 10 },
    }));
    expect(() => lifeFit(falling)).toThrow(
      new NoAnswerError("needs a log from which a shape follows, this one has none"),
    );
  });
  it("says so where wear is over at once for some and never comes for others", () => {
    expect(() => lifeFit(log([1e-300, 1e-200, 1], repeat(1, 100)))).toThrow(
      new NoAnswerError("needs a log from which a shape follows, this one has none"),
    );
  });
  const faults: readonly [Lifetime, string][] = [
    [{ months: -1, failed: true }, "months must be a number of at least 0, got -1"],
    [{ months: NaN, failed: true }, "months must be a number of at least 0, got NaN"],
    [{ months: 5, failed: true, entryAge: 6 }, "entryAge must be from 0 to months (5), got 6"],
    [{ months: 5, failed: true, entryAge: -1 }, "entryAge must be from 0 to months (5), got -1"],
  ];
  for (const [record, message] of faults) {
    it(`says: ${message}`, () => {
      expect(() => lifeFit([...log([3, 5, 6], []), record])).toThrow(InputError);
      expect(() => lifeFit([...log([3, 5, 6], []), record])).toThrow(message);
    });
  }
  it("refuses a level of 1", () => {
    expect(() => fitLimits(lifeFit(log([3, 5, 6], [])), 1)).toThrow(
      "level must be above 0 and below 1, got 1",
    );
  });
});

describe("as cells", () => {
  it("passes over rows blank in both, and takes a blank end for one without wear", () => {
    const plain = LIFEFIT.call([
      [3, 5, 6, 7],
      [true, 1, true, false],
    ]);
    expect(plain).toHaveLength(1);
    const blanks = LIFEFIT.call([
      [3, null, 5, 6, 7, ""],
      [1, "", 1, 1, null, 0],
    ]);
    expect(blanks).toEqual(plain);
  });
  it("does not lose a failure whose months are missing", () => {
    const message = "monthsInUse must be given wherever worn is TRUE, got a blank cell";
    expect(
      LIFEFIT.call([
        [3, 5, 6, null],
        [1, 1, 1, 1],
      ]),
    ).toEqual({ error: "#VALUE!", message });
  });
  it("refuses columns of different height", () => {
    const message = "worn must be as many cells as monthsInUse (2), got 3";
    expect(
      LIFEFIT.call([
        [3, 5],
        [1, 1, 1],
      ]),
    ).toEqual({ error: "#VALUE!", message });
  });
});
