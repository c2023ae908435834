import { attribute } from "../xml/attributes.ts";
import { shownText } from "../xml/escape.ts";
import { content, eachChild, next, openRoot, readXml, skipTo, type Xml } from "../xml/xml.ts";

/** The texts that cells share, and those of them that are struck through in whole or in part. */
export interface Strings {
  readonly texts: readonly string[];
  readonly struck: ReadonlySet<number>;
}

/** The texts that cells share, rich text as plain. */
export function readStrings(text: string, part: string): Strings {
  const texts: string[] = [];
  const struck = new Set<number>();
  const xml = readXml(text, part);
  openRoot(xml, "sst");
  eachChild(xml, () => {
    if (xml.name === "si") texts.push(richText(xml, () => struck.add(texts.length)));
  });
  while (next(xml));
  return { texts, struck };
}

export const NO_STRINGS: Strings = { texts: [], struck: new Set() };

/** The text of the string item just opened: its own and that of its runs, without phonetic hints. */
export function richText(xml: Xml, onStruck: () => void): string {
  if (xml.empty) return "";
  const depth = xml.stack.length;
  let text = "";
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) break;
    if (xml.kind !== "open") continue;
    if (xml.name === "t") text += content(xml);
    else if (xml.name === "rPh") skipElement(xml);
    else if (xml.name === "rPr") {
      eachChild(xml, () => {
        if (isStrike(xml)) onStruck();
      });
    }
  }
  return shownText(text);
}

/** The element of a font that strikes its text through. */
function isStrike(xml: Xml): boolean {
  return xml.name === "strike" && !/^(?:0|false)$/.test(attribute(xml, "val") ?? "");
}

function skipElement(xml: Xml): void {
  if (!xml.empty) skipTo(xml, xml.stack.length - 1);
}
