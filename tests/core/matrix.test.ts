import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inverseOf, productOf } from "../../src/core/matrix.ts";

describe("published", () => {
  it("inverts the Hilbert matrix of order 3 (Choi, The American Mathematical Monthly 90, 1983: whole numbers)", () => {
    const hilbert = [0, 1, 2].map((row) => [0, 1, 2].map((column) => 1 / (row + column + 1)));
    const whole = [
      [9, -36, 30],
      [-36, 192, -180],
      [30, -180, 180],
    ];
    inverseOf(hilbert)
      ?.flat()
      .forEach((value, at) => {
        expect(value).toBeCloseTo(whole.flat()[at] ?? NaN, 9);
      });
    expect(inverseOf(hilbert)).not.toBeNull();
  });
});

describe("properties", () => {
  it("gives what undoes a matrix, wherever its pivots stand", () => {
    const value = fc.double({ min: -10, max: 10, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.array(value, { minLength: 4, maxLength: 4 }), { minLength: 4, maxLength: 4 }),
        (rows) => {
          // Heavier off the diagonal than anything else: no pivot stands where it is first looked for.
          const matrix = rows.map((row, at) =>
            row.map((one, column) => one + (column === (at + 1) % 4 ? 60 : 0)),
          );
          const inverse = inverseOf(matrix);
          matrix.forEach((row, at) => {
            row.forEach((_, column) => {
              const found = productOf(row, inverse?.map((line) => line[column] ?? NaN) ?? []);
              expect(found).toBeCloseTo(at === column ? 1 : 0, 9);
            });
          });
        },
      ),
    );
  });
  it("says that there is none", () => {
    expect(inverseOf([[0]])).toBeNull();
    expect(
      inverseOf([
        [1, 2],
        [2, 4],
      ]),
    ).toBeNull();
  });
});
