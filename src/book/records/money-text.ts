import { NO_CURRENCY } from "./settings.ts";

const AMOUNT = new Intl.NumberFormat("en", { minimumFractionDigits: 2, maximumFractionDigits: 2 });

/**
 * An amount in a sentence, thousands parted as the sheets part them, with its currency where Setup has one.
 *
 * @example
 * moneyText(4784, "EUR") // => "4,784.00 EUR"
 */
export function moneyText(amount: number, currency: string): string {
  const text = AMOUNT.format(amount);
  return currency === NO_CURRENCY ? text : `${text} ${currency}`;
}
