import { listed, notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { identifierAt, quoted } from "../../workbook/cells.ts";
import { placeIn } from "../register/cell-place.ts";
import type { Named } from "../devices/devices.ts";
import { bySerial } from "./misplaced-dates.ts";
import type { Found } from "../register/register.ts";

/** Devices in service with one serial number: one of them may be the other, or its number was copied. */
export function serialsTwice(found: Found, named: readonly Named[]): Problem[] {
  const column = found.columns.get("serial");
  if (column === undefined) return [];
  return [...bySerial(found.page, column, named).values()].flatMap((devices): Problem[] => {
    const last = devices.at(-1);
    const ids = [...new Set(devices.map(({ id }) => id))];
    if (last === undefined || ids.length < 2) return [];
    const serial = quoted(identifierAt(found.page, last.row, column));
    const cause = `${listed(ids)} have the serial number ${serial}.`;
    const fix = "Look at their plates, and write the number of each.";
    return [notice("serial twice", placeIn(found, last.row, column), cause, fix)];
  });
}
