import { isLastDone } from "../../records/positions.ts";
import type { Problem } from "../../records/records.ts";
import { moves } from "../../workbook/moving.ts";
import { cellKey, type Snapshot } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";
import { faultLater } from "../told/told-later.ts";

/** Dates of last replacements that a formula moves on by itself: they stand for no replacement. */
export function movingDates(
  snapshot: Snapshot,
  { page, register }: Found,
  devices: readonly Named[],
): Problem[] {
  const { sheet } = page;
  if (sheet.formulas.size === 0) return [];
  const dated = register.matches.filter(({ field }) => isLastDone(field));
  return dated.flatMap(({ column, heading }) =>
    devices.flatMap(({ row, retired }) => {
      if (retired || !moves(snapshot, sheet, cellKey(row, column))) return [];
      const place = { sheet: sheet.name, row, column, heading };
      return [faultLater("moving date", place, "moving")];
    }),
  );
}
