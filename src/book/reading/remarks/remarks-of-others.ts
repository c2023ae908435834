import { alikeKey } from "../../records/alike-keys.ts";
import { counted, notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { quoted, textOf } from "../../workbook/cells.ts";
import { placeIn } from "../register/cell-place.ts";
import { firstWords } from "../told/first-words.ts";
import type { Named } from "../devices/devices.ts";
import { devicesIn } from "../devices/devices-in-text.ts";
import type { Found } from "../register/register.ts";
import { remarkColumns } from "./remarks-heard.ts";

/** More remarks than these are a habit, such as the spare of each device: told once. */
const EACH = 5;
/**
 * Remarks that name another device than that of their row, as "label says HS-012" does: the dates may be the other
 * one's. Told, since most are of spares and places.
 */
export function remarksOfOthers(
  found: Found,
  named: readonly Named[],
  {
    devices,
    parts,
  }: { readonly devices: () => ReadonlyMap<string, Named>; readonly parts: readonly Part[] },
): Problem[] {
  const { page } = found;
  // One that has left was perhaps replaced by the other.
  const serving = named.filter(({ retired }) => !retired);
  const heard = remarkColumns(found, parts).flatMap((column) =>
    serving.flatMap((device) => {
      const text = textOf(page.sheet.values[device.row]?.[column] ?? null);
      const other = otherIn(text, device, devices());
      return other === null ? [] : [{ device, column, text, other }];
    }),
  );
  const told = heard.length > EACH ? heard.slice(0, 1) : heard;
  const rest = heard.length - told.length;
  const also = rest === 0 ? "" : `, and so do ${counted(rest, "more remark")}`;
  return told.map(({ device: { row, sheet }, column, text, other }) => {
    const of = other.sheet === sheet ? "" : ` of ${other.sheet}`;
    const cause = `The remark ${firstWords(text)} names another device, ${quoted(other.id)} in row ${other.row + 1}${of}${also}.`;
    const fix = "See whether the dates are of the device in whose row they stand.";
    return notice("unweighed remark", placeIn(found, row, column), cause, fix);
  });
}

function otherIn(text: string, own: Named, devices: ReadonlyMap<string, Named>): Named | null {
  const isOther = (one: Named): boolean => alikeKey(one.key) !== alikeKey(own.key);
  return devicesIn(text, devices).find(isOther) ?? null;
}
