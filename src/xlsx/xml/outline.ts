import { attribute } from "./attributes.ts";
import { eachChild, next, openRoot, readXml, skipTo, type Xml } from "./xml.ts";

/** Where an element stands in its text. */
export interface Place {
  readonly name: string;
  readonly start: number;
  readonly end: number;
  /** Behind its opening tag. */
  readonly openEnd: number;
  /** Before its closing tag; the same as openEnd when it is empty. */
  readonly closeStart: number;
  /** Written as <a/>. */
  readonly empty: boolean;
}

/** A root element and the elements directly inside it. */
export interface Outline {
  readonly root: Place;
  /** Prefix of the root with its colon, or nothing: new elements carry the same. */
  readonly prefix: string;
  readonly children: readonly Place[];
}

/** One change of a text: what stands from start to end gives way to xml. */
export interface Splice {
  readonly start: number;
  readonly end: number;
  readonly xml: string;
}

/** Reads the outline of a small part. */
export function outlineOf(text: string, part: string, root: string): Outline {
  const xml = readXml(text, part);
  openRoot(xml, root);
  const prefix = prefixOf(xml);
  const place = readPlace(xml);
  return { root: place.place, prefix, children: place.children };
}

/** Prefix, with its colon, of the element just opened. */
export function prefixOf(xml: Xml): string {
  const name = xml.empty ? xml.text.slice(xml.start + 1, xml.end) : (xml.stack.at(-1) ?? "");
  const colon = name.indexOf(":");
  return colon > 0 && name.slice(colon + 1).startsWith(xml.name) ? name.slice(0, colon + 1) : "";
}

/** The place of the element just opened, and of the elements directly inside it; reads behind its end. */
function readPlace(xml: Xml): { place: Place; children: Place[] } {
  const { name, start, end, empty } = xml;
  const children: Place[] = [];
  if (empty) return { place: { name, start, end, openEnd: end, closeStart: end, empty }, children };
  eachChild(xml, () => {
    children.push(placeHere(xml));
  });
  const place = { name, start, end: xml.end, openEnd: end, closeStart: xml.start, empty };
  return { place, children };
}

/** The place of the element just opened; reads behind its end. */
export function placeHere(xml: Xml): Place {
  const { name, start, end, empty } = xml;
  if (empty) return { name, start, end, openEnd: end, closeStart: end, empty };
  skipTo(xml, xml.stack.length - 1);
  return { name, start, end: xml.end, openEnd: end, closeStart: xml.start, empty };
}

/** The elements directly inside a place of the text. */
export function childrenOf(text: string, place: Place, part: string): Place[] {
  const xml = readXml(text.slice(place.start, place.end), part);
  next(xml);
  return readPlace(xml).children.map((child) => shift(child, place.start));
}

/**
 * The elements of a list at a place. Alternate content stands for those of its fallback, which is written
 * for readers that know no extension; both branches must have as many, since others count past it.
 */
export function itemsOf(text: string, place: Place, part: string): Place[] {
  return childrenOf(text, place, part).flatMap((child) => {
    if (child.name !== "AlternateContent") return [child];
    const branches = childrenOf(text, child, part);
    const branch = branches.find(({ name }) => name === "Fallback") ?? branches[0];
    return branch ? childrenOf(text, branch, part) : [];
  });
}

function shift(place: Place, by: number): Place {
  return {
    ...place,
    start: place.start + by,
    end: place.end + by,
    openEnd: place.openEnd + by,
    closeStart: place.closeStart + by,
  };
}

/** An attribute of the element at a place, or null. */
export function attributeAt(text: string, place: Place, name: string): string | null {
  return attribute(openingTag(text, place), name);
}

/** The element at a place, just opened, to read its attributes. */
export function openingTag(text: string, place: Place): Xml {
  const xml = readXml(text.slice(place.start, place.openEnd), place.name);
  next(xml);
  return xml;
}

/** The opening tag of a place with attributes set, or taken away by null; all others stay as they stand. */
export function withAttributes(
  text: string,
  place: Place,
  changes: Readonly<Record<string, string | null>>,
): string {
  const xml = openingTag(text, place);
  const tag = xml.text;
  let result = tag.slice(
    0,
    xml.count ? (xml.attributes[0] ?? 0) : tag.length - (xml.empty ? 2 : 1),
  );
  result = result.trimEnd();
  const left = new Map(Object.entries(changes));
  for (let at = 0; at < xml.count; at += 4) {
    const name = tag.slice(xml.attributes[at], xml.attributes[at + 1]);
    const change = left.get(name);
    if (change === undefined) {
      result += ` ${tag.slice(xml.attributes[at], (xml.attributes[at + 3] ?? 0) + 1)}`;
    } else if (change !== null) result += ` ${name}="${change}"`;
    left.delete(name);
  }
  for (const [name, change] of left) if (change !== null) result += ` ${name}="${change}"`;
  return `${result}${place.empty ? "/>" : ">"}`;
}

/** A change that puts xml before the end of the element at a place, opening it when it was empty. */
export function appendTo(text: string, place: Place, xml: string, open?: string): Splice[] {
  const tag = open ?? text.slice(place.start, place.openEnd);
  if (!place.empty) {
    return [
      { start: place.start, end: place.openEnd, xml: tag },
      { start: place.closeStart, end: place.closeStart, xml },
    ];
  }
  const name = /^<([^\s/>]+)/.exec(tag)?.[1] ?? place.name;
  return [{ start: place.start, end: place.end, xml: `${tag.slice(0, -2)}>${xml}</${name}>` }];
}

/** Where a new child of that name belongs, by the order its root prescribes. */
export function positionOf(outline: Outline, order: readonly string[], name: string): number {
  const rank = order.indexOf(name);
  const later = outline.children.find((child) => rankOf(order, child.name) > rank);
  return later ? later.start : outline.root.closeStart;
}

function rankOf(order: readonly string[], name: string): number {
  // Alternate content at the root of a sheet stands for its controls; anything unknown is left behind.
  return order.indexOf(name === "AlternateContent" ? "controls" : name);
}

/** The text with all changes made; those at the same place keep their order. */
export function spliced(text: string, splices: readonly Splice[]): string {
  const pieces: string[] = [];
  let at = 0;
  for (const splice of [...splices].sort((a, b) => a.start - b.start || a.end - b.end)) {
    pieces.push(text.slice(at, splice.start), splice.xml);
    at = splice.end;
  }
  pieces.push(text.slice(at));
  return pieces.join("");
}
