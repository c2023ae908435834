import { shownText } from "../xml/escape.ts";
import { content, eachChild, next, openRoot, readXml, skipTo, type Xml } from "../xml/xml.ts";

/** The texts that cells share, rich text as plain. */
export function readStrings(text: string, part: string): string[] {
  const strings: string[] = [];
  const xml = readXml(text, part);
  openRoot(xml, "sst");
  eachChild(xml, () => {
    if (xml.name === "si") strings.push(richText(xml));
  });
  while (next(xml));
  return strings;
}

/** The text of the string item just opened: its own and that of its runs, without phonetic hints. */
export function richText(xml: Xml): string {
  if (xml.empty) return "";
  const depth = xml.stack.length;
  let text = "";
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) break;
    if (xml.kind !== "open") continue;
    if (xml.name === "t") text += content(xml);
    else if (xml.name === "rPh" || xml.name === "rPr") skipElement(xml);
  }
  return shownText(text);
}

function skipElement(xml: Xml): void {
  if (!xml.empty) skipTo(xml, xml.stack.length - 1);
}
