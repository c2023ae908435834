import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addLater, type Rows, rowsAfter } from "../../src/core/renewal-rows.ts";

const STRIDE = 5;

const tables = fc.record({
  numbers: fc.array(fc.double({ min: -1, max: 1, noNaN: true }), {
    minLength: 40,
    maxLength: 40,
  }),
  sizes: fc.array(fc.integer({ min: 0, max: STRIDE }), { minLength: 8, maxLength: 8 }),
  ends: fc.array(
    fc.tuple(fc.integer({ min: 0, max: 7 }), fc.double({ min: 0, max: 1, noNaN: true })),
    {
      maxLength: 7,
    },
  ),
});

describe("second implementation", () => {
  it("adds up the rows of all ends one by one, as far as each has numbers", () => {
    const check = fc.property(tables, ({ numbers, sizes, ends }) => {
      const rows: Rows = {
        ...{ stride: STRIDE, numbers: Float64Array.from(numbers), reach: () => undefined },
        starts: Int32Array.from(sizes, (_, day) => day * STRIDE),
        sizes: Uint16Array.from(sizes),
      };
      // Arrays may be longer than what counts of them.
      const days = Int32Array.from([...ends.map(([day]) => day), 3]);
      const chances = Float64Array.from([...ends.map(([, chance]) => chance), 0.5]);
      const sum = new Float64Array(STRIDE + 2);
      const most = addLater(
        sum,
        2,
        { size: ends.length, days, chances, onSchedule: false, left: 0 },
        rows,
      );
      expect(most).toBe(Math.max(0, ...ends.map(([day]) => sizes[day] ?? 0)));
      for (let at = 0; at < STRIDE; at += 1) {
        const wanted = ends.reduce(
          (total, [day, chance]) =>
            total + (at < (sizes[day] ?? 0) ? chance * (numbers[day * STRIDE + at] ?? 0) : 0),
          0,
        );
        expect(sum[2 + at]).toBeCloseTo(wanted, 12);
      }
      expect(Array.from(sum.slice(0, 2))).toEqual([0, 0]);
    });
    fc.assert(check);
  });
});

describe("rows", () => {
  it("are worked out from the last day back, due days before those they lead to", () => {
    const seen: number[] = [];
    const due = Int32Array.from({ length: 10 }, (_, day) => day + 5);
    const course = {
      last: 9,
      inspections: Int32Array.of(3, 7),
      due,
      good: new Float64Array(6).fill(1),
    };
    const { reach } = rowsAfter(course, 9, {
      stride: 1,
      include: (_, __, { day }) => {
        seen.push(day);
        return 1;
      },
    });
    reach(0);
    reach(0);
    expect(seen).toEqual([7, 8, 3, 5, 0]);
  });
});
