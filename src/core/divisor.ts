/**
 * The greatest common divisor of two whole numbers, by Euclid's algorithm.
 *
 * @param one Whole number, zero or more.
 * @param other Whole number, zero or more.
 * @returns The divisor; the other number where one is 0, and NaN where one is NaN.
 * @see Knuth, The Art of Computer Programming, volume 2, section 4.5.2.
 * @example
 * commonDivisor(40851, 4150) // => 1
 * commonDivisor(40000, 4150) // => 50
 */
export function commonDivisor(one: number, other: number): number {
  return other === 0 || Number.isNaN(other) ? one + other : commonDivisor(other, one % other);
}
