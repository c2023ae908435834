import { plain, said } from "./references.ts";
import type { Xml } from "./xml.ts";

/** The value of an attribute by its name without prefix declarations (such as "r" or "xml:space"), or null. */
export function attribute(xml: Xml, name: string): string | null {
  for (let at = 0; at < xml.count; at += 4) {
    const from = xml.attributes[at] ?? 0;
    if ((xml.attributes[at + 1] ?? 0) - from !== name.length || !xml.text.startsWith(name, from))
      continue;
    return plain(said(xml, xml.attributes[at + 2] ?? 0, xml.attributes[at + 3] ?? 0));
  }
  return null;
}

/** The identifier of a relationship an element points to: the one "id" attribute that carries a prefix. */
export function relationId(xml: Xml): string | null {
  for (let at = 0; at < xml.count; at += 4) {
    const name = xml.text.slice(xml.attributes[at], xml.attributes[at + 1]);
    if (name.endsWith(":id")) return attribute(xml, name);
  }
  return null;
}

/** Whether an attribute is set to true, in either spelling. */
export function isOn(xml: Xml, name: string): boolean {
  const value = attribute(xml, name);
  return value === "1" || value === "true" || value === "on";
}

/** A whole number in an attribute, or null. */
export function numberOf(xml: Xml, name: string): number | null {
  const value = attribute(xml, name);
  const number = value === null || value.length > 10 ? NaN : Number(value);
  return Number.isInteger(number) && number >= 0 && value !== "" ? number : null;
}
