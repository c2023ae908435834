/** Rows of numbers. */
export type Matrix = readonly (readonly number[])[];

/**
 * The inverse of a matrix, by Gauss and Jordan's elimination with the largest pivot of each column.
 *
 * @param matrix As many rows as columns.
 * @returns The inverse; null where there is none, or none to the precision of a double number.
 * @see Golub and Van Loan, Matrix Computations, chapter 3, on elimination with pivoting.
 * @example
 * inverseOf([[2, 0], [0, 4]]) // => [[0.5, 0], [0, 0.25]]
 * inverseOf([[1, 2], [2, 4]]) // => null
 */
export function inverseOf(matrix: Matrix): number[][] | null {
  const size = matrix.length;
  const rows = matrix.map((row, at) => [...row, ...unitRow(at, size)]);
  const least = Number.EPSILON * Math.max(...matrix.flat().map(Math.abs));
  for (let at = 0; at < size; at += 1) {
    const pivot = rows
      .slice(at)
      .reduce((most, row) => (sizeAt(row, at) > sizeAt(most, at) ? row : most));
    if (!(sizeAt(pivot, at) > least)) return null;
    rows.splice(rows.indexOf(pivot), 1);
    const scaled = pivot.map((value) => value / (pivot[at] ?? NaN));
    rows.splice(at, 0, scaled);
    rows.forEach((row, other) => {
      const factor = row[at] ?? 0;
      if (other === at || factor === 0) return;
      rows[other] = row.map((value, column) => value - factor * (scaled[column] ?? 0));
    });
  }
  return rows.map((row) => row.slice(size));
}

function unitRow(at: number, size: number): number[] {
  return Array.from({ length: size }, (_, column) => (column === at ? 1 : 0));
}

function sizeAt(row: readonly number[], column: number): number {
  return Math.abs(row[column] ?? 0);
}

/**
 * The sum of products of two lists.
 *
 * @param one Numbers.
 * @param other As many numbers.
 * @returns The sum.
 * @example
 * productOf([1, 2], [3, 4]) // => 11
 */
export function productOf(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, value, at) => sum + value * (other[at] ?? 0), 0);
}
