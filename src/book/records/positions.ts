import type { ColumnMatch, Part, Register } from "./records.ts";

/**
 * Positions: a register may have a column of dates for each piece of one part, such as left and right. Each is
 * a match of its own, its field the part's and the position's: "last:CUSHION left". The earliest of a row's
 * dates counts for the part, and none while one is missing.
 */
export function positionField(field: string, position: string): string {
  return `${field} ${position}`;
}

/** The field of the part that a position's field belongs to; any other field itself. */
export function fieldOfPart(field: string): string {
  return field.split(" ", 1)[0] ?? field;
}

/** Whether a field is a position's. */
export function isPosition(field: string): boolean {
  return fieldOfPart(field) !== field;
}

/** The columns that say when a part was last done: one, or one for each position. */
export function lastColumns(
  { matches }: Pick<Register, "matches">,
  { code }: Part,
): readonly ColumnMatch[] {
  return matches.filter(({ field }) => fieldOfPart(field) === `last:${code}`);
}

/** The earliest of a row's dates; null while one of them is missing. */
export function earliest<T extends number>(dates: readonly (T | null)[]): T | null {
  const [first = null, ...others] = dates;
  return others.reduce<T | null>(
    (least, date) => (least === null || date === null ? null : date < least ? date : least),
    first,
  );
}
