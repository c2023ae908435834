import { keyOf } from "../workbook/cells.ts";

/**
 * What tells devices apart, whoever wrote the identifier and wherever: made once when a workbook is
 * read, for the register, the counts and the Job log alike. Nothing else compares identifiers.
 */
export function deviceKey(written: string): string {
  return keyOf(written);
}

/** Each device once, by its first row: one that stands in two rows is worked with once. */
export function onePerKey<D extends { readonly key: string }>(devices: readonly D[]): D[] {
  const seen = new Set<string>();
  return devices.filter(({ key }) => !seen.has(key) && seen.add(key));
}
