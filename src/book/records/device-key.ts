import { keyOf } from "../workbook/cells.ts";

/**
 * What tells devices apart, whoever wrote the identifier and wherever: made once when a workbook is
 * read, for the register, the counts and the Job log alike. Nothing else compares identifiers.
 */
export function deviceKey(written: string): string {
  return keyOf(written);
}
