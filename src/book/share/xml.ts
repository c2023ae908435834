import { plainText } from "./text.ts";

/** An element of an XML text: children, or words. */
export interface Element {
  readonly name: string;
  readonly content: string | readonly Element[];
  readonly attributes: Readonly<Record<string, string>>;
}

/** An element that holds a text. */
export function said(
  name: string,
  text: string,
  attributes: Readonly<Record<string, string>> = {},
): Element {
  return { name, content: text, attributes };
}

/** An element that holds a text, or nothing where there is no text to hold. */
export function saidIf(
  name: string,
  text: string,
  attributes: Readonly<Record<string, string>> = {},
): Element[] {
  return plainText(text).trim() === "" ? [] : [said(name, text, attributes)];
}

/** An element that holds elements. */
export function holding(name: string, content: readonly Element[]): Element {
  return { name, content, attributes: {} };
}

/** An element that holds elements, or nothing where there are none. */
export function holdingIf(name: string, content: readonly Element[]): Element[] {
  return content.length === 0 ? [] : [holding(name, content)];
}

/** The text of a document, UTF-8. */
export function xmlText(root: Element): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n${elementText(root, "")}`;
}

function elementText({ name, content, attributes }: Element, indent: string): string {
  const tag = Object.entries(attributes).reduce(
    (start, [key, value]) => `${start} ${key}="${escaped(value).replaceAll("\n", "&#10;")}"`,
    `${indent}<${name}`,
  );
  if (typeof content === "string") return `${tag}>${escaped(content)}</${name}>\n`;
  const inner = content.map((child) => elementText(child, `${indent}  `)).join("");
  return `${tag}>\n${inner}${indent}</${name}>\n`;
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
};

function escaped(text: string): string {
  return plainText(text).replace(/[&<>"]/g, (sign) => ENTITIES[sign] ?? sign);
}
