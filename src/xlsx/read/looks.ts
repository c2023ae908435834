import type { SheetCell } from "../../book/workbook/plan.ts";
import { outlineOf } from "../xml/outline.ts";

/** What a cell of our own sheets looks like. */
export type CellLook = Pick<
  SheetCell,
  "look" | "format" | "toRight" | "away" | "upright" | "wraps" | "middle"
>;

/** The elements a look is made of; null where the sheet's own default serves. */
export interface LookXml {
  readonly font: string | null;
  readonly fill: string | null;
  readonly border: string | null;
  readonly alignment: string | null;
}

const HEADING_FILL = "FFE7E6E6";
const INPUT_FILL = "FFFFF9E5";
const EDGE = "FFBFBFBF";
const NOTE_COLOR = "FF595959";

/** How the text stands in its cell: a number a little away from the right edge, long text in further lines. */
function alignmentOf(cell: CellLook, p: string): string | null {
  const { look, toRight, away, upright, wraps, middle } = cell;
  const parts = [
    ...(toRight ? ['horizontal="right"'] : away ? ['horizontal="left"'] : []),
    ...(upright ? ['horizontal="center"'] : []),
    ...(look === "heading" || middle ? ['vertical="center"'] : []),
    ...(upright ? ['textRotation="90"'] : look === "heading" || wraps ? ['wrapText="1"'] : []),
    // The button of a table's filter covers the right end of a heading.
    ...(toRight ? [`indent="${look === "heading" ? 2 : 1}"`] : away ? ['indent="1"'] : []),
  ];
  return parts.length === 0 ? null : `<${p}alignment ${parts.join(" ")}/>`;
}

/** A look on top of the book's own first font, so that our sheets read like the others. */
export function lookXml(cell: CellLook, font: string, p: string): LookXml {
  const none = { font: null, fill: null, border: null, alignment: alignmentOf(cell, p) };
  switch (cell.look ?? "plain") {
    case "plain":
      return none;
    case "title":
      return { ...none, font: fontLike(font, p, "b", { sz: "14" }) };
    case "answer":
      return { ...none, font: fontLike(font, p, "b", {}) };
    case "total":
      return { ...none, font: fontLike(font, p, "b", {}), border: border(p, ["top"]) };
    case "heading":
      return {
        ...none,
        font: fontLike(font, p, "b", {}),
        fill: solid(p, HEADING_FILL),
        border: border(p, ["bottom"]),
      };
    case "input":
      return {
        ...none,
        fill: solid(p, INPUT_FILL),
        border: border(p, ["left", "right", "top", "bottom"]),
      };
    case "note":
      return { ...none, font: fontLike(font, p, "i", { color: NOTE_COLOR }) };
  }
}

/** Children of a font in the order the schema wants them; many programs write another. Source: ECMA-376, CT_Font. */
const FONT_ORDER =
  "b i strike condense extend outline shadow u vertAlign sz color name family charset scheme".split(
    " ",
  );

/** The first font with an emphasis, and size or colour replaced. */
function fontLike(
  font: string,
  p: string,
  emphasis: "b" | "i",
  change: { readonly sz?: string; readonly color?: string },
): string {
  const outline = font === "" ? null : outlineOf(font, "fonts", "font");
  const children = new Map<string, string>();
  for (const { name, start, end } of outline?.children ?? []) {
    if (name !== "b" && name !== "i") children.set(name, font.slice(start, end));
  }
  children.set(emphasis, `<${p}${emphasis}/>`);
  if (change.sz) children.set("sz", `<${p}sz val="${change.sz}"/>`);
  if (change.color) children.set("color", `<${p}color rgb="${change.color}"/>`);
  const xml = FONT_ORDER.map((name) => children.get(name) ?? "").join("");
  return `<${p}font>${xml}</${p}font>`;
}

function solid(p: string, color: string): string {
  return `<${p}fill><${p}patternFill patternType="solid"><${p}fgColor rgb="${color}"/><${p}bgColor indexed="64"/></${p}patternFill></${p}fill>`;
}

function border(p: string, edges: readonly string[]): string {
  const sides = ["left", "right", "top", "bottom"].map((side) =>
    edges.includes(side)
      ? `<${p}${side} style="thin"><${p}color rgb="${EDGE}"/></${p}${side}>`
      : `<${p}${side}/>`,
  );
  return `<${p}border>${sides.join("")}<${p}diagonal/></${p}border>`;
}

/** Styles of a workbook that has none: one font, the two fills every workbook starts with, one cell format. */
export function emptyStyles(space: string): string {
  return (
    `<styleSheet xmlns="${space}"><fonts count="1"><font><sz val="11"/><name val="Calibri"/><family val="2"/></font></fonts>` +
    '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>' +
    '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>' +
    '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>' +
    '<cellXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/></cellXfs>' +
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
  );
}
