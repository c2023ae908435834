import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Course, firstEnds, goodShares } from "../../src/core/renewal.ts";
import { countsAfter, runningCounts } from "../../src/core/renewal-counts.ts";
import { expectedAfter, runningExpected } from "../../src/core/renewal-expected.ts";

/** Days that are all inspections and on which nothing falls due. */
function endless(last: number, good: Float64Array): Course {
  const days = Array.from({ length: last }, (_, at) => at + 1);
  const due = Int32Array.from({ length: last + 1 }, () => 2 * last);
  return { last, inspections: Int32Array.from(days), due, good };
}

function sum(values: Iterable<number>): number {
  return [...values].reduce((total, value) => total + value, 0);
}

/** Every way of being replaced with its chance, told one by one. */
function everyWay(course: Course, running: { age: number; due: number }): [number[], number][] {
  const { inspections, good, due, last } = course;
  const ways: [number[], number][] = [];
  // The day it was fitted, the last it was seen good, the day it is due.
  type Begun = readonly [begun: number, seen: number, until: number];
  const walk = ([begun, seen, until]: Begun, days: number[], chance: number): void => {
    const at = [...inspections].find((day) => day > seen && day > begun);
    const next = Math.min(at ?? Infinity, until);
    if (next > last) {
      ways.push([days, chance]);
      return;
    }
    const fresh = (share: number): void => {
      if (share > 0) walk([next, next, due[next] ?? Infinity], [...days, next], chance * share);
    };
    if (next === until) {
      fresh(1);
      return;
    }
    const [was, is] = [Math.max(seen, begun), next].map(
      (day) => good[Math.max(0, day - begun)] ?? 0,
    );
    const still = was === 0 ? 0 : (is ?? 0) / (was ?? 1);
    fresh(1 - still);
    if (still > 0) walk([begun, next, until], days, chance * still);
  };
  if (running.due <= 0) walk([0, 0, due[0] ?? Infinity], [0], 1);
  else walk([-running.age, 0, running.due], [], 1);
  return ways;
}

const courses = fc
  .record({
    life: fc.record({
      shape: fc.double({ min: 0.3, max: 8, noNaN: true }),
      scale: fc.double({ min: 0.05, max: 1, noNaN: true }),
    }),
    looks: fc.uniqueArray(fc.integer({ min: 1, max: 12 }), { maxLength: 6 }),
    gaps: fc.array(fc.integer({ min: 2, max: 9 }), { minLength: 13, maxLength: 13 }),
    age: fc.integer({ min: -3, max: 9 }),
    left: fc.integer({ min: 0, max: 9 }),
  })
  .map(({ life, looks, gaps, age, left }) => ({
    running: { age, due: Math.max(left, 1 - age) * (left === 0 && age >= 0 ? 0 : 1) },
    course: {
      last: 12,
      inspections: Int32Array.from(looks.sort((a, b) => a - b)),
      due: Int32Array.from(gaps, (gap, fitted) => fitted + gap),
      good: goodShares(life, 40),
    },
  }));

describe("second implementation", () => {
  it("counts and expects what every single way of being replaced adds up to, from now and from later", () => {
    const check = fc.property(
      courses,
      fc.integer({ min: 0, max: 9 }),
      ({ course, running }, after) => {
        const ends = firstEnds(running, course);
        const within = [after, 12] as const;
        const counts = runningCounts(ends, countsAfter(course, within));
        const wanted = new Map<number, number>();
        let mean = 0;
        for (const [days, chance] of everyWay(course, running)) {
          const inside = days.filter((day) => day > after || (day === 0 && after === 0)).length;
          wanted.set(inside, (wanted.get(inside) ?? 0) + chance);
          mean += days.length * chance;
        }
        for (let count = 0; count < 13; count += 1) {
          expect(counts[count] ?? 0).toBeCloseTo(wanted.get(count) ?? 0, 10);
        }
        const months = new Int32Array(13);
        const found = runningExpected(ends, expectedAfter(course, months, 1), months);
        expect(sum(found)).toBeCloseTo(mean, 10);
      },
    );
    fc.assert(check);
  });
});

describe("properties", () => {
  it("has a part replaced by its due day, with no chance below zero, and on it whatever its state", () => {
    const check = fc.property(courses, ({ course, running }) => {
      const { size, days, chances, onSchedule } = firstEnds(running, course);
      expect(Math.min(1, ...chances)).toBeGreaterThanOrEqual(0);
      expect(onSchedule).toBe(running.due <= course.last);
      if (onSchedule) {
        expect(sum(chances)).toBeCloseTo(1, 12);
        expect(days[size - 1]).toBe(running.due);
      }
    });
    fc.assert(check);
  });
  it("finds at the first inspection a part that by its life cannot be good", () => {
    const course = endless(5, goodShares({ shape: 1000, scale: 0.01 }, 60));
    const { size, days, chances } = firstEnds({ age: 50, due: 4 }, course);
    const [ended, each] = [days.subarray(0, size), chances.subarray(0, size)];
    expect([Array.from(ended), Array.from(each)]).toEqual([
      [1, 4],
      [1, 0],
    ]);
  });
});
