import { NO_CURRENCY } from "./settings.ts";

/** The currency behind an amount, after a space or other words; nothing where Setup has none. */
export function unitOf(currency: string, before = " "): string {
  return currency === NO_CURRENCY ? "" : `${before}${currency}`;
}

/** What the amounts of a sheet are in, as a sentence. */
export function amountsIn(currency: string): string {
  return currency === NO_CURRENCY ? "No currency is set in Setup." : `Amounts in ${currency}.`;
}
