import { cellKey } from "../../book/workbook/snapshot.ts";
import { shownText } from "../xml/escape.ts";
import { attribute } from "../xml/attributes.ts";
import { content, eachChild, openRoot, readXml } from "../xml/xml.ts";
import { areaOf } from "./areas.ts";
import { richText } from "./strings.ts";

/** What people wrote to cells, by cellKey; of a thread each answer after the one before. */
export type Comments = ReadonlyMap<number, string>;

/** Notes of a sheet, as its comments part has them. */
export function readNotes(text: string, part: string): Comments {
  const found = new Map<number, string>();
  if (!hasElements(text)) return found;
  const xml = readXml(text, part);
  openRoot(xml, "comments");
  eachChild(xml, () => {
    if (xml.name !== "commentList") return;
    eachChild(xml, () => {
      const key = keyOf(attribute(xml, "ref"));
      let said = "";
      eachChild(xml, () => {
        if (xml.name === "text") said = richText(xml, () => undefined);
      });
      add(found, key, said);
    });
  });
  return found;
}

/** Threads of a sheet; the comments part beside them repeats each with words of the program before it. */
export function readThreads(text: string, part: string): Comments {
  const found = new Map<number, string>();
  if (!hasElements(text)) return found;
  const xml = readXml(text, part);
  openRoot(xml, "ThreadedComments");
  eachChild(xml, () => {
    const key = keyOf(attribute(xml, "ref"));
    let said = "";
    eachChild(xml, () => {
      if (xml.name === "text") said = shownText(content(xml));
    });
    add(found, key, said);
  });
  return found;
}

/** Programs leave the part behind when the last comment is deleted, with a declaration or nothing in it. */
function hasElements(text: string): boolean {
  return /<[^?!]/.test(text);
}

function keyOf(ref: string | null): number | null {
  const area = areaOf(ref);
  return area === null ? null : cellKey(area.firstRow, area.firstColumn);
}

function add(found: Map<number, string>, key: number | null, said: string): void {
  const text = said.trim();
  if (key === null || text === "") return;
  const before = found.get(key);
  found.set(key, before === undefined ? text : `${before}\n${text}`);
}
