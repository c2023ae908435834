import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { complianceChart } from "../../src/core/chart.ts";
import { complianceRate } from "../../src/core/compliance.ts";

const wafers = [
  ...[12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9],
  ...[12, 7, 13, 9, 6],
];

describe("published", () => {
  it("NIST/SEMATECH e-Handbook 6.3.3.2 (data read in NIST Dataplot, limits from memory): 30 samples of 50", () => {
    const { centre, points } = complianceChart(wafers.map((done) => ({ done, due: 50 })));
    expect(centre).toBeCloseTo(0.2313, 4);
    for (const { limits } of points) {
      expect(limits?.low).toBeCloseTo(0.0524, 4);
      expect(limits?.high).toBeCloseTo(0.4102, 4);
    }
    const out = points.flatMap((point, index) => (point.out === true ? [index + 1] : []));
    expect(out).toEqual([15, 23]);
  });
});

const group = fc
  .tuple(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 0, max: 200 }))
  .map(([one, other]) => ({ done: Math.min(one, other), due: Math.max(one, other) }));
const groups = fc.array(group, { minLength: 1, maxLength: 20 });

describe("properties", () => {
  it("limits hold the centre, stay within 0 and 1, and are there where five and five are expected", () => {
    const check = fc.property(groups, (given) => {
      fc.pre(given.some(({ due }) => due > 0));
      const { centre, points } = complianceChart(given);
      points.forEach(({ compliance, limits, out }, index) => {
        const { done, due } = given[index] ?? { done: 0, due: 0 };
        expect(compliance).toEqual(due === 0 ? null : complianceRate(done, due));
        expect(limits !== null).toBe(due * centre >= 5 && due * (1 - centre) >= 5);
        expect(out === null).toBe(limits === null);
        if (limits === null) return;
        expect(limits.low).toBeGreaterThanOrEqual(0);
        expect(limits.low).toBeLessThan(centre);
        expect(limits.high).toBeGreaterThan(centre);
        expect(limits.high).toBeLessThanOrEqual(1);
        // Three standard deviations, squared and multiplied out.
        const off = done - due * centre;
        const far = off * off > 9 * due * centre * (1 - centre);
        expect(out).toBe(far);
      });
    });
    fc.assert(check);
  });
  it("kept and missed are each other's mirror", () => {
    const check = fc.property(groups, (given) => {
      fc.pre(given.some(({ due }) => due > 0));
      const one = complianceChart(given);
      const other = complianceChart(given.map(({ done, due }) => ({ done: due - done, due })));
      expect(other.centre).toBeCloseTo(1 - one.centre, 12);
      const out = one.points.map((point) => point.out ?? false);
      expect(other.points.map((point) => point.out ?? false)).toEqual(out);
    });
    fc.assert(check);
  });
  it("judges nobody where nothing, or everything, was done", () => {
    const { points } = complianceChart([
      { done: 50, due: 50 },
      { done: 9, due: 9 },
      { done: 0, due: 0 },
    ]);
    expect(points.map(({ limits }) => limits)).toEqual([null, null, null]);
    expect(points[2]?.compliance).toBeNull();
    expect(points[0]?.compliance?.low).toBeCloseTo(0.9287, 4);
  });
});

describe("bad input", () => {
  it("names what is wrong", () => {
    expect(() => complianceChart([{ done: 3, due: 2 }])).toThrow(
      "done must be a whole number from 0 to due (2), got 3",
    );
    expect(() => complianceChart([{ done: 1, due: 0 }])).toThrow(
      "done must be a whole number from 0 to due (0), got 1",
    );
    expect(() => complianceChart([{ done: 0, due: 0 }])).toThrow("nothing was due");
    expect(() => complianceChart([])).toThrow("nothing was due");
  });
});
