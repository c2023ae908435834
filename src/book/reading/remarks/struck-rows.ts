import { fault } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { cellKey } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** Devices whose number is struck through, as people do with what has left: they stay in service, and are told. */
export function struckDevices(
  { page, columns, register }: Found,
  named: readonly Named[],
): Problem[] {
  const { struck, name } = page.sheet;
  const column = columns.get("device");
  if (struck === undefined || column === undefined) return [];
  const heading = register.headings[column] ?? "";
  return named.flatMap(({ row, id, retired }) => {
    if (retired || !struck.has(cellKey(row, column))) return [];
    return fault(
      "struck device",
      { sheet: name, row, column, heading },
      `${id} is struck through; it counts as in service.`,
      "If it has left, write Retired under a heading Status, and the date under Retired on; else take the line off.",
    );
  });
}
