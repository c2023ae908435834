import { NO_CURRENCY } from "./settings.ts";

const AMOUNT = new Intl.NumberFormat("en", { minimumFractionDigits: 2, maximumFractionDigits: 2 });

/**
 * An amount in a sentence, thousands parted as the sheets part them, with its currency where Setup has one.
 *
 * @example
 * moneyText(4784, "EUR") // => "4,784.00 EUR"
 */
export function moneyText(amount: number, currency = NO_CURRENCY): string {
  return `${AMOUNT.format(amount)}${unitOf(currency)}`;
}

/** The currency behind an amount, after a space or other words; nothing where Setup has none. */
export function unitOf(currency: string, before = " "): string {
  return currency === NO_CURRENCY ? "" : `${before}${currency}`;
}

/** What the amounts of a sheet are in, as a sentence. */
export function amountsIn(currency: string): string {
  return currency === NO_CURRENCY ? "No currency is set in Setup." : `Amounts in ${currency}.`;
}
