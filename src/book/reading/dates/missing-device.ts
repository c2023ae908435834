import { type CellPlace, fault } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import type { Page } from "../../workbook/cells.ts";
import { isCellError } from "../../workbook/snapshot.ts";
import { cellError } from "./date-columns.ts";

/** A row with entries and no device that can be read: left out, and told. */
export function missingDevice(
  page: Page,
  place: CellPlace & { row: number; column: number },
): Problem {
  const value = page.sheet.values[place.row]?.[place.column] ?? null;
  if (isCellError(value)) return cellError(place, value.error);
  const cause = `Row ${place.row + 1} has entries but no device; it is left out.`;
  return fault("device missing", place, cause, "Write the device's identifier, or clear the row.");
}
