import { counted, listed, notice } from "../../records/problems.ts";
import type { Device, Problem } from "../../records/records.ts";
import { identifierAt, quoted } from "../../workbook/cells.ts";
import type { Found } from "../register/register.ts";

/** A device whose site is spelled as in its first row. */
type Spelled = Pick<Device, "row" | "id" | "site">;

/** Every further spelling of a site, told once at its first cell. */
export function spellingNotices(found: Found, named: readonly Spelled[]): Problem[] {
  const { page, columns, register, siteByRow } = found;
  const column = columns.get("site");
  if (column === undefined) return [];
  const heading = register.headings[column] ?? "";
  const others = new Map<string, Spelled[]>();
  for (const device of named) {
    const written = siteByRow.get(device.row) ?? identifierAt(page, device.row, column);
    if (written === device.site) continue;
    const same = others.get(written);
    if (same === undefined) others.set(written, [device]);
    else same.push(device);
  }
  return [...others].map(([written, devices]) => {
    const site = devices[0]?.site ?? "";
    const row = devices[0]?.row ?? null;
    const ids = listed(devices.map(({ id }) => id));
    return notice(
      "site spelled twice",
      { sheet: page.sheet.name, row, column, heading },
      `${quoted(written)} is taken to be ${quoted(site)}, as spelled in an earlier row: ${counted(devices.length, "device")}, ${ids}.`,
      `Write ${site} there.`,
    );
  });
}
