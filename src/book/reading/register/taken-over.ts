import { matcherFor } from "../../headings/match.ts";
import { deviceKey } from "../../records/device-key.ts";
import { remembering } from "../../records/remembering.ts";
import { partKey } from "../../records/positions.ts";
import type { Device, Part } from "../../records/records.ts";
import { identifierAt, type Page, textOf, trueDate } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import { namesParts } from "../rows/part-rows.ts";

/**
 * Whether all that a sheet says of devices and days is on the register already, as on one that the register was made of:
 * each row that names a device has days, and none of them is later than what the register has for its part.
 */
export function takenOver(
  devices: readonly Device[],
  parts: readonly Part[],
): (page: Page) => boolean {
  const byKey = new Map(devices.map((device) => [device.key, device]));
  const partNamed = namesParts(matcherFor(parts), parts);
  const keyOf = (cell: CellValue): string[] => {
    const part = typeof cell === "string" ? partNamed(textOf(cell)) : null;
    return part === null ? [] : [partKey(part)];
  };
  return (page) => {
    const { values, name } = page.sheet;
    const keysOfColumn = remembering((column: number): readonly string[] => {
      const head = values.find((cells) => typeof cells[column] === "string")?.[column];
      return keyOf(head ?? null);
    });
    let taken = 0;
    for (const [row, cells] of values.entries()) {
      const columns = cells.map((_, column) => column);
      const device = columns
        .map((column) => byKey.get(deviceKey(identifierAt(page, row, column))))
        .find((one) => one !== undefined);
      if (device === undefined) continue;
      const ofRow = [...cells, name].flatMap(keyOf);
      const days = columns.flatMap((column) => {
        const day = trueDate(page, row, column);
        if (day === null) return [];
        const ofColumn = keysOfColumn(column);
        return { day, keys: ofColumn.length > 0 ? ofColumn : ofRow };
      });
      if (days.length === 0 || !days.every(({ day, keys }) => day <= lastUntil(device, keys))) {
        return false;
      }
      taken += 1;
    }
    return taken > 0;
  };
}

/** Until when a day says no more than the register: the date of the parts named, else the first of all. */
function lastUntil({ lastDone }: Device, keys: readonly string[]): number {
  const dates = (isOf: (part: string) => boolean): number[] =>
    lastDone.flatMap(({ part, date }) => (date !== null && isOf(part) ? date : []));
  const own = dates((part) => keys.includes(part));
  return Math.min(...(own.length > 0 ? own : dates(() => true)));
}
