/**
 * Where a test begins to hold, to the last digit of a double number: the bisection method. The gap is
 * halved until no number lies within.
 *
 * @param low A number at which the test does not hold.
 * @param high A number above it at which the test holds.
 * @param holds The test; it fails up to some number and holds from there on.
 * @returns The two neighbouring numbers: the last found failing, and the first found holding.
 * @see Burden and Faires, Numerical Analysis, section 2.1.
 * @example
 * bisected(0, 2, (x) => x * x >= 2)[1] // => Math.SQRT2
 */
export function bisected(
  low: number,
  high: number,
  holds: (value: number) => boolean,
): readonly [number, number] {
  let [below, above] = [low, high];
  for (;;) {
    const middle = below + (above - below) / 2;
    if (!(middle > below && middle < above)) return [below, above];
    if (holds(middle)) above = middle;
    else below = middle;
  }
}

/**
 * The first whole number from which on a test holds: binary search.
 *
 * @param low The least number it can be.
 * @param high The largest, given where the test holds for none below it; not tried itself.
 * @param holds The test; it fails up to some number and holds from there on.
 * @returns Whole number.
 * @see Knuth, The Art of Computer Programming, volume 3, section 6.2.1.
 * @example
 * firstWhole(0, 4, (at) => [1, 3, 3, 7][at] > 3) // => 3
 */
export function firstWhole(low: number, high: number, holds: (value: number) => boolean): number {
  let [from, to] = [low, high];
  while (from < to) {
    const middle = from + Math.floor((to - from) / 2);
    if (holds(middle)) to = middle;
    else from = middle + 1;
  }
  return from;
}

/**
 * How many numbers of an ascending list are at most so much: binary search.
 *
 * @param ascending The numbers, none below the one before it.
 * @param most What they are held against.
 * @returns Whole number, 0 to the length of the list.
 * @see Knuth, The Art of Computer Programming, volume 3, section 6.2.1.
 * @example
 * countUpTo([1, 3, 3, 7], 3) // => 3
 */
export function countUpTo(ascending: ArrayLike<number>, most: number): number {
  // By itself, not by a test handed over: days are ranked by it a million times.
  let from = 0;
  let to = ascending.length;
  while (from < to) {
    const middle = (from + to) >>> 1;
    if ((ascending[middle] ?? Infinity) > most) to = middle;
    else from = middle + 1;
  }
  return from;
}
