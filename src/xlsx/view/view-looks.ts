import { attribute, isOn, numberOf } from "../xml/attributes.ts";
import { itemsOf, outlineOf } from "../xml/outline.ts";
import { colorOf } from "./view-colors.ts";
import { eachChild, next, readXml, type Xml } from "../xml/xml.ts";

/** How a cell looks, for showing it; what is absent is as everywhere. Number formats stand in the snapshot. */
export interface CellLook {
  readonly bold?: true;
  readonly italic?: true;
  /** RRGGBB. */
  readonly color?: string;
  readonly fill?: string;
  /** Points. */
  readonly size?: number;
  readonly font?: string;
  readonly wraps?: true;
  readonly across?: "left" | "center" | "right";
  readonly edges?: readonly ("left" | "right" | "top" | "bottom")[];
}

type Look = { -readonly [K in keyof CellLook]: CellLook[K] };

/** The looks of the cell formats of a styles part, and those its rules point to. */
export function readLooks(
  text: string,
  part: string,
  theme: readonly string[],
): { readonly cells: readonly CellLook[]; readonly rules: readonly CellLook[] } {
  const outline = outlineOf(text, part, "styleSheet");
  const list = <T>(name: string, read: (xml: Xml) => T): T[] => {
    const place = outline.children.find((child) => child.name === name);
    if (!place) return [];
    return itemsOf(text, place, part).map((item) => {
      const xml = readXml(text.slice(item.start, item.end), part);
      next(xml);
      return read(xml);
    });
  };
  const fonts = list("fonts", (xml) => fontLook(xml, theme));
  const fills = list("fills", (xml) => fillLook(xml, theme));
  const borders = list("borders", borderLook);
  const cells = list("cellXfs", (xml) => {
    const look = {
      ...fonts[numberOf(xml, "fontId") ?? 0],
      ...fills[numberOf(xml, "fillId") ?? 0],
      ...borders[numberOf(xml, "borderId") ?? 0],
    };
    eachChild(xml, () => {
      if (xml.name === "alignment") align(xml, look);
    });
    return look;
  });
  return { cells, rules: list("dxfs", (xml) => ruleLook(xml, theme)) };
}

function fontLook(xml: Xml, theme: readonly string[]): Look {
  const look: Look = {};
  eachChild(xml, () => {
    const value = attribute(xml, "val");
    const on = value === null || isOn(xml, "val");
    if (xml.name === "b" && on) look.bold = true;
    else if (xml.name === "i" && on) look.italic = true;
    else if (xml.name === "sz" && Number(value) > 0) look.size = Number(value);
    else if (xml.name === "name" && value !== null) look.font = value;
    else if (xml.name === "color") {
      const color = colorOf(xml, theme);
      if (color !== null) look.color = color;
    }
  });
  return look;
}

function fillLook(xml: Xml, theme: readonly string[]): Look {
  const look: Look = {};
  eachChild(xml, () => {
    if (xml.name !== "patternFill") return;
    // In a rule a fill without a pattern is a solid one, and its colour is the background's.
    const pattern = attribute(xml, "patternType") ?? "rule";
    eachChild(xml, () => {
      const wanted = pattern === "rule" ? "bgColor" : "fgColor";
      const color = xml.name === wanted && pattern !== "none" ? colorOf(xml, theme) : null;
      if (color !== null) look.fill = color;
    });
  });
  return look;
}

const EDGES = ["left", "right", "top", "bottom"] as const;

function borderLook(xml: Xml): Look {
  const edges: (typeof EDGES)[number][] = [];
  eachChild(xml, () => {
    const edge = EDGES.find((name) => name === xml.name);
    const style = attribute(xml, "style");
    if (edge && style !== null && style !== "none") edges.push(edge);
  });
  return edges.length > 0 ? { edges } : {};
}

function align(xml: Xml, look: Look): void {
  const across = attribute(xml, "horizontal");
  if (isOn(xml, "wrapText")) look.wraps = true;
  if (across === "left" || across === "center" || across === "right") look.across = across;
}

function ruleLook(xml: Xml, theme: readonly string[]): Look {
  const look: Look = {};
  eachChild(xml, () => {
    if (xml.name === "font") Object.assign(look, fontLook(xml, theme));
    else if (xml.name === "fill") Object.assign(look, fillLook(xml, theme));
  });
  return look;
}
