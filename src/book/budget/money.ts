import { roundMoney } from "../orders/lines.ts";

/** A sum in which what is not known counts nothing. */
export function sumOf(amounts: readonly (number | null)[]): number {
  return roundMoney(amounts.reduce<number>((sum, amount) => sum + (amount ?? 0), 0));
}
