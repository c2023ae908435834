import { bookFolder, type Change } from "./change.ts";
import {
  addPart,
  addOnlyRelation,
  draftHas,
  draftRelations,
  draftText,
  splicePart,
} from "../package/draft.ts";
import {
  appendTo,
  attributeAt,
  childrenOf,
  type Outline,
  openingTag,
  outlineOf,
  type Place,
  positionOf,
  type Splice,
  withAttributes,
} from "../xml/outline.ts";
import { numberOf } from "../xml/attributes.ts";
import { next, readXml } from "../xml/xml.ts";

const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheetMetadata+xml";
const DYNAMIC_SPACE = "http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray";
/** Identifies the extension that says "dynamic array". Source: [MS-XLSX] 2.3.12. */
const DYNAMIC_ID = "{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}";
const NAME = "XLDAPR";
const ORDER = [
  "metadataTypes",
  "metadataStrings",
  "mdxMetadata",
  "futureMetadata",
  "cellMetadata",
  "valueMetadata",
  "extLst",
];
/** What becomes of the mark when a cell is copied, merged, split and so on. */
const KEPT =
  "copy pasteAll pasteValues merge splitFirst rowColShift clearFormats clearComments assign coerce cellMeta".split(
    " ",
  );

/**
 * The number by which a cell says that its formula is a dynamic array, the form in which a spreadsheet
 * program stores calls of an add-in's functions. The mark is found in the book or added to it.
 */
export function dynamicMark(change: Change): number {
  const { draft, book } = change;
  const known = draftRelations(draft, book.path).find(
    ({ type }) => type === "sheetMetadata",
  )?.target;
  if (!known || !draftHas(draft, known)) {
    const text =
      `<metadata xmlns="${book.space}" xmlns:xda="${DYNAMIC_SPACE}">` +
      `<metadataTypes count="1">${typeXml("")}</metadataTypes>${futureXml("")}` +
      '<cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';
    const path = addPart(draft, `${bookFolder(change)}metadata.xml`, TYPE, text);
    addOnlyRelation(draft, book.path, "sheetMetadata", path);
    return 1;
  }
  return markIn(change, known);
}

function typeXml(p: string): string {
  const kept = KEPT.map((name) => ` ${name}="1"`).join("");
  return `<${p}metadataType name="${NAME}" minSupportedVersion="120000"${kept}/>`;
}

function futureXml(p: string): string {
  return `<${p}futureMetadata name="${NAME}" count="1">${blockXml(p)}</${p}futureMetadata>`;
}

function blockXml(p: string): string {
  return (
    `<${p}bk><${p}extLst><${p}ext uri="${DYNAMIC_ID}">` +
    `<xda:dynamicArrayProperties xmlns:xda="${DYNAMIC_SPACE}" fDynamic="1" fCollapsed="0"/>` +
    `</${p}ext></${p}extLst></${p}bk>`
  );
}

/** A metadata part taken apart. */
interface Parts {
  readonly text: string;
  readonly path: string;
  readonly outline: Outline;
}

function markIn(change: Change, path: string): number {
  const text = draftText(change.draft, path);
  const outline = outlineOf(text, path, "metadata");
  const parts = { text, path, outline };
  const p = outline.prefix;
  const splices: Splice[] = [];
  const types = itemsOf(parts, placed(parts, "metadataTypes"));
  let type = types.findIndex((place) => attributeAt(text, place, "name") === NAME);
  if (type < 0) {
    type = types.length;
    splices.push(...append(parts, "metadataTypes", typeXml(p)));
  }
  const future = outline.children.find(
    (place) => place.name === "futureMetadata" && attributeAt(text, place, "name") === NAME,
  );
  const blocks = itemsOf(parts, future);
  let block = blocks.findIndex((place) => isDynamic(text, place));
  if (block < 0) {
    block = blocks.length;
    if (future) {
      const count = withAttributes(text, future, { count: String(block + 1) });
      splices.push(...appendTo(text, future, blockXml(p), count));
    } else {
      const at = positionOf(outline, ORDER, "futureMetadata");
      splices.push({ start: at, end: at, xml: futureXml(p) });
    }
  }
  const cells = itemsOf(parts, placed(parts, "cellMetadata"));
  let mark = cells.findIndex((place) => pointsTo(text, place, type + 1, block));
  if (mark < 0) {
    mark = cells.length;
    const record = `<${p}bk><${p}rc t="${type + 1}" v="${block}"/></${p}bk>`;
    splices.push(...append(parts, "cellMetadata", record));
  }
  if (splices.length > 0) splicePart(change.draft, path, splices);
  return mark + 1;
}

function placed(parts: Parts, name: string): Place | undefined {
  return parts.outline.children.find((place) => place.name === name);
}

function itemsOf(parts: Parts, place: Place | undefined): Place[] {
  return place ? childrenOf(parts.text, place, parts.path) : [];
}

function append(parts: Parts, name: string, xml: string): Splice[] {
  const { text, outline } = parts;
  const place = placed(parts, name);
  if (place) {
    const count = String(itemsOf(parts, place).length + 1);
    return appendTo(text, place, xml, withAttributes(text, place, { count }));
  }
  const tag = outline.prefix + name;
  const at = positionOf(outline, ORDER, name);
  return [{ start: at, end: at, xml: `<${tag} count="1">${xml}</${tag}>` }];
}

function isDynamic(text: string, place: Place): boolean {
  const xml = readXml(text.slice(place.start, place.end), "metadata");
  while (next(xml)) {
    if (xml.kind !== "open" || xml.name !== "dynamicArrayProperties") continue;
    return numberOf(xml, "fDynamic") === 1 && (numberOf(xml, "fCollapsed") ?? 0) === 0;
  }
  return false;
}

function pointsTo(text: string, place: Place, type: number, block: number): boolean {
  const records = childrenOf(text, place, "metadata");
  const [record] = records;
  if (records.length !== 1 || !record) return false;
  const tag = openingTag(text, record);
  return numberOf(tag, "t") === type && numberOf(tag, "v") === block;
}
