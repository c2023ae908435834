import { folded } from "../languages/words-of.ts";
import { quoted } from "../workbook/cells.ts";
import { type CellPlace, fault } from "../records/problems.ts";
import type { Device, Problem } from "../records/records.ts";

/** Two numbers that may be the first and last, or one and another, of several devices: "OAE 1-4", "OAE 5 & 6". */
const TWO =
  /^(.*?)(\d{1,4})\s*(-|–|—|to|through|bis|a|à|hasta|do|t\/m|&|\+|\/|,|;|and|und|et|y|e|en|i|oraz)\s*(?:\1)?\s*(\d{1,4})(?=\s*(?:$|[,;&+]))/u;
/** A list of two; every other word between them says from the one to the other. */
const BESIDE = /^(?:&|\+|\/|,|;|and|und|et|y|e|en|i|oraz)$/u;
/** In this share of identifiers and more two numbers with the same between them are how devices are numbered. */
const NUMBERING = 0.5;
const MOST = 100;

/** Rows that seem to stand for several devices: each would count as one in needs, orders and inspections. */
export function severalDevices<D extends Pick<Device, "id">>(
  named: readonly D[],
  placeOf: (device: D) => CellPlace,
): Problem[] {
  const read = named.map((device) => ({ device, two: TWO.exec(folded(device.id)) }));
  const single = read.filter(({ two }) => two === null);
  const starts = new Set(single.map(({ device }) => startOf(device.id)));
  return read.flatMap(({ device, two }) => {
    if (two === null) return [];
    const [, before = "", first = "", word = "", last = ""] = two;
    const alike = read.filter((other) => other.two?.[3] === word).length;
    if (alike >= named.length * NUMBERING) return [];
    const apart = Number(last) - Number(first);
    // Others are numbered with the same beginning and one number.
    if (!starts.has(before.trim()) || apart < 1 || apart > MOST) return [];
    const count = BESIDE.test(word) ? 2 : apart + 1;
    const cause = `${quoted(device.id)} may be ${count} devices in one row; it counts as one.`;
    return [fault("several devices", placeOf(device), cause, "Give each device a row of its own.")];
  });
}

/** An identifier without its number. */
function startOf(id: string): string {
  return folded(id)
    .replace(/\d+\s*$/u, "")
    .trim();
}
