import type { RuleLook } from "../../book/workbook/plan.ts";
import { WorkbookError } from "../file/errors.ts";
import { escaped } from "../xml/escape.ts";
import { builtInCode, builtInId, FIRST_OWN_FORMAT, showsDate } from "./formats.ts";
import { MOST_CELL_FORMATS } from "../file/limits.ts";
import { type CellLook, type LookXml, lookXml } from "./looks.ts";
import {
  appendTo,
  attributeAt,
  itemsOf,
  openingTag,
  type Outline,
  outlineOf,
  type Place,
  positionOf,
  type Splice,
  spliced,
  withAttributes,
} from "../xml/outline.ts";
import { numberOf } from "../xml/attributes.ts";

/** The styles of a workbook: what cells point to, and what a plan adds. */
export interface Styles {
  readonly text: string;
  readonly path: string;
  readonly outline: Outline;
  readonly formats: Map<number, string>;
  /** Cell formats as their elements stand in the text, new ones at the end. */
  readonly cells: string[];
  readonly added: Map<string, string[]>;
  readonly known: Map<string, number>;
  readonly counts: Map<string, number>;
}

/** Children of the styles in the order the schema wants them. */
export const STYLES_ORDER = [
  "numFmts",
  "fonts",
  "fills",
  "borders",
  "cellStyleXfs",
  "cellXfs",
  "cellStyles",
  "dxfs",
  "tableStyles",
  "colors",
  "extLst",
];

/** The lists a plan adds to. */
const GROWING = ["numFmts", "fonts", "fills", "borders", "cellXfs", "dxfs"];

/** Reads the styles part. */
export function readStyles(text: string, path: string): Styles {
  const outline = outlineOf(text, path, "styleSheet");
  const formats = new Map<number, string>();
  for (const place of partsOf(text, outline, "numFmts", path)) {
    const id = numberOf(openingTag(text, place), "numFmtId");
    const code = attributeAt(text, place, "formatCode");
    if (id !== null && code !== null) formats.set(id, code);
  }
  const cells = partsOf(text, outline, "cellXfs", path).map((at) => text.slice(at.start, at.end));
  const counts = new Map<string, number>();
  for (const place of outline.children) {
    if (GROWING.includes(place.name)) counts.set(place.name, itemsOf(text, place, path).length);
  }
  return { text, path, outline, formats, cells, added: new Map(), known: new Map(), counts };
}

function partsOf(text: string, outline: Outline, name: string, part: string): Place[] {
  const place = outline.children.find((child) => child.name === name);
  return place ? itemsOf(text, place, part) : [];
}

function wholePlace(text: string): Place {
  const open = text.indexOf(">") + 1;
  const empty = text[open - 2] === "/";
  return { name: "xf", start: 0, end: text.length, openEnd: open, closeStart: open, empty };
}

/** The number format code of a cell format. */
export function formatOf(styles: Styles, style: number): string {
  const xf = styles.cells[style];
  const id = xf === undefined ? 0 : numberOf(openingTag(xf, wholePlace(xf)), "numFmtId");
  return styles.formats.get(id ?? 0) ?? builtInCode(id ?? 0);
}

const STRIKE = /<(?:[\w.-]+:)?strike(?=[\s/>])(?![^>]*\bval\s*=\s*["'](?:0|false)["'])/;

/** Which cell formats strike their text through. */
export function struckIn({ text, path, outline, cells }: Styles): (style: number) => boolean {
  const fonts = partsOf(text, outline, "fonts", path).map((at) =>
    STRIKE.test(text.slice(at.start, at.end)),
  );
  if (!fonts.includes(true)) return () => false;
  const struck = cells.map((xf) => {
    const font = numberOf(openingTag(xf, wholePlace(xf)), "fontId");
    return fonts[font ?? 0] === true;
  });
  return (style) => struck[style] === true;
}

/** A cell format like another but with that number format; without one, a date format is dropped for text. */
export function restyled(
  styles: Styles,
  base: number,
  format: string | null,
  text: boolean,
): number {
  const key = `${base}|${format ?? ""}|${format === null && text ? "text" : ""}`;
  const known = styles.known.get(key);
  if (known !== undefined) return known;
  const found = restyle(styles, base, format, text);
  styles.known.set(key, found);
  return found;
}

function restyle(styles: Styles, base: number, format: string | null, text: boolean): number {
  const wanted =
    format ?? (text && showsDate(formatOf(styles, base)) ? "General" : formatOf(styles, base));
  const from = cellFormat(styles, base);
  const tag = wholePlace(from);
  const quoted = attributeAt(from, tag, "quotePrefix") !== null;
  if (base < styles.cells.length && wanted === formatOf(styles, base) && !quoted) return base;
  const id = formatId(styles, wanted);
  const opening = withAttributes(from, tag, {
    numFmtId: String(id),
    applyNumberFormat: id === 0 ? null : "1",
    quotePrefix: null,
  });
  return addCell(styles, opening + from.slice(tag.openEnd));
}

/** A cell format's element; the first for a number that is none. */
function cellFormat(styles: Styles, index: number): string {
  return styles.cells[index] ?? styles.cells[0] ?? `<${styles.outline.prefix}xf/>`;
}

/** The same cell format with long text going on in further lines. */
export function wrapping(styles: Styles, base: number): number {
  const p = styles.outline.prefix;
  const from = cellFormat(styles, base);
  const tag = wholePlace(from);
  const opening = withAttributes(from, tag, { applyAlignment: "1" });
  const wrapped = `<${p}alignment wrapText="1" vertical="top"/>`;
  if (opening.endsWith("/>")) return addCell(styles, `${opening.slice(0, -2)}>${wrapped}</${p}xf>`);
  const rest = from.slice(tag.openEnd);
  const aligned = new RegExp(`<${p}alignment[^>]*>`).exec(rest)?.[0];
  if (aligned === undefined) return addCell(styles, opening + wrapped + rest);
  const own = aligned
    .replace(/ wrapText="[^"]*"/, "")
    .replace("alignment", 'alignment wrapText="1"');
  return addCell(styles, opening + rest.replace(aligned, own));
}

function addCell(styles: Styles, xml: string): number {
  const same = styles.cells.indexOf(xml);
  if (same >= 0) return same;
  if (styles.cells.length >= MOST_CELL_FORMATS) {
    throw new WorkbookError(
      `This workbook has ${styles.cells.length} cell formats and there may be no more: remove the ones nobody uses in your spreadsheet program first.`,
    );
  }
  push(styles, "cellXfs", xml);
  styles.cells.push(xml);
  return styles.cells.length - 1;
}

/** The number of a format code, adding it when it is new. */
function formatId(styles: Styles, code: string): number {
  const builtIn = builtInId(code);
  if (builtIn !== null) return builtIn;
  let largest = FIRST_OWN_FORMAT - 1;
  for (const [id, known] of styles.formats) {
    if (known === code) return id;
    largest = Math.max(largest, id);
  }
  const id = largest + 1;
  styles.formats.set(id, code);
  push(styles, "numFmts", numFmt(styles, id, code));
  return id;
}

function numFmt(styles: Styles, id: number, code: string): string {
  return `<${styles.outline.prefix}numFmt numFmtId="${id}" formatCode="${escaped(code)}"/>`;
}

/** Adds an element to one of the lists and returns its index; the same element is added once. */
function push(styles: Styles, list: string, xml: string): number {
  const key = `${list}|${xml}`;
  const known = styles.known.get(key);
  if (known !== undefined) return known;
  const added = styles.added.get(list) ?? [];
  const index = (styles.counts.get(list) ?? 0) + added.length;
  added.push(xml);
  styles.added.set(list, added);
  styles.known.set(key, index);
  return index;
}

/** Cells with the same key look the same. */
export function lookKey({ look = "plain", format = "", ...stands }: CellLook): string {
  const { toRight, away, upright, wraps, middle } = stands;
  return [look, format, ...[toRight, away, upright, wraps, middle].map((is) => is ?? "")].join("|");
}

/** The cell format of a cell of our own sheets. */
export function lookStyle(styles: Styles, cell: CellLook): number {
  const { look = "plain", format = null } = cell;
  const key = `look|${lookKey(cell)}`;
  const known = styles.known.get(key);
  if (known !== undefined) return known;
  const { prefix } = styles.outline;
  const place = partsOf(styles.text, styles.outline, "fonts", styles.path)[0];
  const font = place ? styles.text.slice(place.start, place.end) : "";
  const parts = lookXml(cell, font, prefix);
  const id = format === null ? 0 : formatId(styles, format);
  const style =
    look === "plain" && id === 0 && parts.alignment === null && styles.cells.length > 0
      ? 0
      : addCell(styles, lookCell(styles, parts, id));
  styles.known.set(key, style);
  return style;
}

function lookCell(styles: Styles, parts: LookXml, format: number): string {
  const tag = `${styles.outline.prefix}xf`;
  let ids = "";
  let applied = format > 0 ? ' applyNumberFormat="1"' : "";
  for (const [name, list, xml] of [
    ["font", "fonts", parts.font],
    ["fill", "fills", parts.fill],
    ["border", "borders", parts.border],
  ] as const) {
    ids += ` ${name}Id="${xml === null ? 0 : push(styles, list, xml)}"`;
    if (xml !== null) applied += ` apply${name.charAt(0).toUpperCase()}${name.slice(1)}="1"`;
  }
  const open = `<${tag} numFmtId="${format}"${ids} xfId="0"${applied}`;
  return parts.alignment ? `${open} applyAlignment="1">${parts.alignment}</${tag}>` : `${open}/>`;
}

/** The index of a rule's look. */
export function ruleStyle(styles: Styles, look: RuleLook): number {
  const p = styles.outline.prefix;
  let xml = "";
  if (look.bold || look.color) {
    xml += `<${p}font>${look.bold ? `<${p}b/>` : ""}${look.color ? `<${p}color rgb="FF${escaped(look.color)}"/>` : ""}</${p}font>`;
  }
  if (look.format) {
    const id = formatId(styles, look.format);
    xml += numFmt(styles, id, look.format);
  }
  if (look.fill) {
    xml += `<${p}fill><${p}patternFill><${p}bgColor rgb="FF${escaped(look.fill)}"/></${p}patternFill></${p}fill>`;
  }
  return push(styles, "dxfs", `<${p}dxf>${xml}</${p}dxf>`);
}

/** Whether anything was added. */
export function stylesChanged(styles: Styles): boolean {
  return styles.added.size > 0;
}

/** The styles part with what was added; counts say the truth. */
export function writeStyles(styles: Styles): string {
  const splices: Splice[] = [];
  const { text, outline } = styles;
  for (const name of STYLES_ORDER) {
    const added = styles.added.get(name);
    if (!added) continue;
    const place = outline.children.find((child) => child.name === name);
    if (place) {
      const count = (styles.counts.get(name) ?? 0) + added.length;
      const open = withAttributes(text, place, { count: String(count) });
      splices.push(...appendTo(text, place, added.join(""), open));
    } else {
      const tag = `${outline.prefix}${name}`;
      const at = positionOf(outline, STYLES_ORDER, name);
      splices.push({
        start: at,
        end: at,
        xml: `<${tag} count="${added.length}">${added.join("")}</${tag}>`,
      });
    }
  }
  return spliced(text, splices);
}
