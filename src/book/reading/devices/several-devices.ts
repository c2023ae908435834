import { folded } from "../../languages/words-of.ts";
import { quoted } from "../../workbook/cells.ts";
import { type CellPlace, fault } from "../../records/problems.ts";
import type { Device, Problem } from "../../records/records.ts";

/** Two numbers that may be the first and last, or one and another, of several devices: "OAE 1-4", "OAE 5 & 6". */
const TWO =
  /^(.*?)(\d{1,4})\s*(-|–|—|to|through|bis|a|à|hasta|do|t\/m|&|\+|\/|,|;|and|und|u\.|et|y|e|en|i|oraz|\s)\s*(\1)?\s*(\d{1,4})(?=\s*(?:$|[,;&+]))/u;
/** A list; every other word between them says from the one to the other. */
const BESIDE = /^(?:&|\+|\/|,|;|and|und|u\.|et|y|e|en|i|oraz|\s)$/u;
/** Between two numbers without letters these say that they are two. */
const LISTS = /^(?:&|\+|,|;|and|und|et|oraz)$/u;
/** In this share of identifiers and more two numbers with the same between them are how devices are numbered. */
const NUMBERING = 0.5;
const MOST = 100;

/** Rows that seem to stand for several devices: each would count as one in needs, orders and inspections. */
export function severalDevices<D extends Pick<Device, "id">>(
  named: readonly D[],
  placeOf: (device: D) => CellPlace,
): Problem[] {
  const single: D[] = [];
  const alike = new Map<string, number>();
  const double: { device: D; two: RegExpExecArray }[] = [];
  for (const device of named) {
    const two = TWO.exec(folded(device.id));
    if (two === null) {
      single.push(device);
      continue;
    }
    double.push({ device, two });
    const word = two[3] ?? "";
    alike.set(word, (alike.get(word) ?? 0) + 1);
  }
  if (double.length === 0) return [];
  const starts = new Set(single.map(({ id }) => startOf(id)));
  return double.flatMap(({ device, two }) => {
    const { before, word, isTwice } = saidIn(two);
    const isNumbering = (alike.get(word) ?? 0) >= named.length * NUMBERING;
    if (isNumbering && !(isTwice && LISTS.test(word))) return [];
    // Others are numbered with the same beginning and one number, or both numbers have it.
    const isKnown = isTwice || (word.trim() !== "" && starts.has(before.trim()));
    const count = isKnown ? countOf(two, folded(device.id)) : null;
    if (count === null) return [];
    const cause = `${quoted(device.id)} may be ${count} devices in one row; it counts as one.`;
    return [fault("several devices", placeOf(device), cause, "Give each device a row of its own.")];
  });
}

/** What stands before and between the two numbers, and whether both are surely devices. */
function saidIn([, before = "", first = "", word = "", again = "", last = ""]: RegExpExecArray) {
  const isTwice = /\p{L}/u.test(again) || (before === "" && isList(word, first, last));
  return { before, word, isTwice };
}

/** How many devices two numbers stand for; null where they fall or are too far apart. */
function countOf(
  [all, , first = "", word = "", , last = ""]: RegExpExecArray,
  id: string,
): number | "several" | null {
  const apart = Number(last) - Number(first);
  if (apart < 1 || apart > MOST) return null;
  if (all.length < id.length) return "several";
  return BESIDE.test(word) ? 2 : apart + 1;
}

function isList(word: string, first: string, last: string): boolean {
  return LISTS.test(word) && first.length === last.length && first.length > 2;
}

/** An identifier without its number. */
function startOf(id: string): string {
  return folded(id)
    .replace(/\d+\s*$/u, "")
    .trim();
}
