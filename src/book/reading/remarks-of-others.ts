import { alikeKey, deviceKey } from "../records/device-key.ts";
import { counted, notice } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";
import { quoted, textOf } from "../workbook/cells.ts";
import { firstWords, placeIn } from "./comments.ts";
import type { Fleet, Named } from "./devices.ts";
import type { Found } from "./register.ts";
import { remarkColumns } from "./remarks.ts";

/** Words in the longest identifier that is looked for, as "North Screener HS 12". */
const LONGEST = 4;
/** More remarks than these are a habit, such as the spare of each device: told once. */
const EACH = 5;
const NAME = /^(?=.*\p{L})(?=.*\d)/u;

/** The devices of all registers that a text can name, by what their spellings have in common. */
export function nameable(fleets: readonly Fleet[]): ReadonlyMap<string, Named> {
  const all = fleets.flatMap(({ named }) => named);
  // A number alone may number anything, and a word may be any word.
  const names = all.filter(({ id }) => NAME.test(id));
  return new Map(names.reverse().map((device) => [alikeKey(device.key), device]));
}

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
      const other = /\d/.test(text) ? otherIn(text, device, devices()) : null;
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
  const words = [...text.matchAll(/[\p{L}\p{N}]+/gu)];
  for (const [at, word] of words.entries()) {
    for (const last of words.slice(at, at + LONGEST)) {
      const said = text.slice(word.index, last.index + last[0].length);
      const other = devices.get(alikeKey(deviceKey(said)));
      if (other !== undefined && alikeKey(other.key) !== alikeKey(own.key)) return other;
    }
  }
  return null;
}
