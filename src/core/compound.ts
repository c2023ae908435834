import { InputError } from "./errors.ts";

/** Largest rate whose chance of nothing is still a number of full length. */
const MOST_RATE = 700;

/**
 * Chances of a total where events come by chance and each asks for one or more units.
 *
 * @param rate Expected events, 0 to 700 (Poisson).
 * @param sizes Chance that an event asks for 1, 2, 3 … units; together 1.
 * @param most Largest total asked for, whole, zero or more.
 * @returns Chances of the totals 0 to `most`.
 * @throws InputError if a number is none of these.
 * @see Panjer 1981, ASTIN Bulletin 12, the recursion (from memory).
 * @example
 * compoundChances(Math.LN2, [1], 2).map((share) => Number(share.toFixed(6))) // => [0.5, 0.346574, 0.120113]
 */
export function compoundChances(rate: number, sizes: readonly number[], most: number): number[] {
  if (!(rate >= 0 && rate <= MOST_RATE)) {
    throw new InputError("rate", `a number from 0 to ${MOST_RATE}`, rate);
  }
  if (!(Number.isInteger(most) && most >= 0)) {
    throw new InputError("most", "a whole number, zero or more", most);
  }
  const whole = sizes.reduce((sum, share) => sum + (share >= 0 ? share : NaN), 0);
  if (!(Math.abs(whole - 1) < 1e-9)) throw new InputError("sizes", "chances that add to 1", whole);
  const chances = [Math.exp(-rate)];
  for (let total = 1; total <= most; total += 1) {
    let sum = 0;
    for (let units = 1; units <= Math.min(total, sizes.length); units += 1) {
      sum += units * (sizes[units - 1] ?? 0) * (chances[total - units] ?? 0);
    }
    chances.push((rate / total) * sum);
  }
  return chances;
}
