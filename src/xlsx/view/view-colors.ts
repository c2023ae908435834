import { attribute } from "../xml/attributes.ts";
import type { Book } from "../read/read-book.ts";
import { hasPart, type Package, readPart } from "../package/package.ts";
import { next, readXml, type Xml } from "../xml/xml.ts";

/** The order in which cells count the colours of a theme. Source: ECMA-376 part 1, 20.1.6.2 and 18.8.3. */
const ORDER = [
  ..."lt1 dk1 lt2 dk2 accent1 accent2 accent3 accent4 accent5 accent6 hlink folHlink".split(" "),
];

/** The first colours of the numbered list every workbook has. Source: ECMA-376 part 1, 18.8.27. */
const NUMBERED = ["000000", "FFFFFF", "FF0000", "00FF00", "0000FF", "FFFF00", "FF00FF", "00FFFF"];

/** The colours of a workbook's theme as RRGGBB, in the order cells count them. */
export function themeColors(file: Package, book: Book): string[] {
  const path = book.relations.find(({ type }) => type === "theme")?.target;
  if (!path || !hasPart(file, path)) return [];
  const found = new Map<string, string>();
  const xml = readXml(readPart(file, path), path);
  let slot = "";
  while (next(xml)) {
    if (xml.kind !== "open") continue;
    if (ORDER.includes(xml.name)) slot = xml.name;
    const color = attribute(xml, xml.name === "sysClr" ? "lastClr" : "val");
    const names = xml.name === "srgbClr" || xml.name === "sysClr";
    if (names && color !== null && !found.has(slot)) found.set(slot, color.toUpperCase());
  }
  return ORDER.map((name) => found.get(name) ?? "");
}

/** The colour an element names, RRGGBB, or null where it names none we know. */
export function colorOf(xml: Xml, theme: readonly string[]): string | null {
  const rgb = attribute(xml, "rgb");
  if (rgb !== null) return /^[0-9A-Fa-f]{6,8}$/.test(rgb) ? rgb.slice(-6).toUpperCase() : null;
  const index = Number(attribute(xml, "theme") ?? NaN);
  const tint = Number(attribute(xml, "tint") ?? 0);
  if (Number.isInteger(index)) return tinted(theme[index] ?? "", Number.isFinite(tint) ? tint : 0);
  const numbered = Number(attribute(xml, "indexed") ?? NaN);
  return NUMBERED[numbered >= 8 ? numbered - 8 : numbered] ?? null;
}

/** A colour made lighter (up to 1) or darker (down to -1), near enough for looking at. */
function tinted(color: string, tint: number): string | null {
  if (color === "") return null;
  const channel = (at: number): string => {
    const value = Number.parseInt(color.slice(at, at + 2), 16);
    const moved = tint < 0 ? value * (1 + tint) : value + (255 - value) * tint;
    return Math.round(moved).toString(16).padStart(2, "0").toUpperCase();
  };
  return channel(0) + channel(2) + channel(4);
}
