import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import type { Chance } from "../../src/book/demo/chance.ts";
import { address, areaText } from "../../src/book/workbook/snapshot.ts";
import type { Traits } from "./stranger-traits.ts";

/** What our own plans never make, put into the parts of a file by hand: protection, filters, shared texts. */

type Rough = Pick<
  Traits,
  "filter" | "isProtected" | "table" | "hidden" | "formulas" | "styles" | "shared"
>;

interface Shape {
  readonly headerRow: number;
  readonly lastRow: number;
  readonly width: number;
  readonly random: Chance;
}

type Parts = Map<string, string>;

const REGISTER = "xl/worksheets/sheet1.xml";
const PROTECTED = '</sheetData><sheetProtection sheet="1" objects="1"/>';
const TABLE = "xl/tables/table1.xml";
const RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const SHARED_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml";

/** A book with a stranger's features; its register is the first sheet. */
export function roughened(bytes: Uint8Array, traits: Rough, shape: Shape): Uint8Array {
  const parts: Parts = new Map(
    Object.entries(unzipSync(bytes)).map(([name, content]) => [name, strFromU8(content)]),
  );
  addForeignParts(parts);
  if (traits.styles) addStyles(parts, shape);
  if (traits.formulas === "bare") edit(parts, REGISTER, /(<\/f>)<v>[^<]*<\/v>/g, "$1");
  if (traits.shared) shareTexts(parts);
  if (traits.hidden) {
    edit(parts, REGISTER, /(<col min="2" max="2")/, '$1 hidden="1"');
    edit(parts, "xl/workbook.xml", /(<sheet name="Suppliers")/, '$1 state="hidden"');
  }
  setFilter(parts, traits, shape);
  if (traits.isProtected) {
    edit(parts, REGISTER, /<\/sheetData>/, PROTECTED);
  }
  const files = [...parts].map(([name, text]) => [name, strToU8(text)] as const);
  return zipSync(Object.fromEntries(files), { level: 1, mtime: new Date(2026, 0, 5) });
}

/** A book whose first sheet somebody protected. */
export function protectedFirst(bytes: Uint8Array): Uint8Array {
  const parts = unzipSync(bytes);
  const text = strFromU8(parts[REGISTER] ?? new Uint8Array());
  return zipSync({ ...parts, [REGISTER]: strToU8(text.replace("</sheetData>", PROTECTED)) });
}

/** A book whose sheets somebody fixed. */
export function fixedSheets(bytes: Uint8Array): Uint8Array {
  return inBook(bytes, /<workbookPr[^>]*\/>/, '$&<workbookProtection lockStructure="1"/>');
}

/** A book that is calculated only when somebody asks for it. */
export function manualBook(bytes: Uint8Array): Uint8Array {
  return inBook(
    bytes,
    /<calcPr[^>]*\/>|(?=<\/workbook>)/,
    '<calcPr calcId="191029" calcMode="manual"/>',
  );
}

function inBook(bytes: Uint8Array, place: RegExp, xml: string): Uint8Array {
  const parts = unzipSync(bytes);
  const path = "xl/workbook.xml";
  const text = strFromU8(parts[path] ?? new Uint8Array());
  const changed = text.replace(place, xml);
  if (changed === text) throw new Error("no place for it");
  return zipSync({ ...parts, [path]: strToU8(changed) });
}

function edit(parts: Parts, path: string, from: RegExp, to: string): void {
  const text = parts.get(path) ?? "";
  parts.set(path, text.replace(from, to));
}

/** Parts no plan of ours ever looks at. */
function addForeignParts(parts: Parts): void {
  parts.set("docProps/core.xml", '<?xml version="1.0"?><p:p xmlns:p="x">theirs</p:p>');
  parts.set("customXml/item1.xml", "<notes>theirs\r\nas they wrote it</notes>");
  const relation = (id: string, type: string, target: string): string =>
    `<Relationship Id="${id}" Type="${RELATIONS}/${type}" Target="${target}"/></Relationships>`;
  const core = relation("rIdCore", "metadata/core-properties", "docProps/core.xml");
  edit(parts, "_rels/.rels", /<\/Relationships>/, core);
  const item = relation("rIdItem", "customXml", "../customXml/item1.xml");
  edit(parts, "xl/_rels/workbook.xml.rels", /<\/Relationships>/, item);
}

const MANY = 3000;

/** Thousands of cell formats, as books have that were pasted together for years; some cells wear them. */
function addStyles(parts: Parts, { random }: Shape): void {
  const xfs = Array.from(
    { length: MANY },
    (_, at) =>
      `<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment indent="${at % 250}" textRotation="${Math.floor(at / 250)}"/></xf>`,
  );
  const styles = parts.get("xl/styles.xml") ?? "";
  const before = (/<cellXfs[^>]*>.*?<\/cellXfs>/s.exec(styles)?.[0].match(/<xf /g) ?? []).length;
  const grown = styles
    .replace(/<cellXfs count="\d+"/, `<cellXfs count="${before + MANY}"`)
    .replace("</cellXfs>", `${xfs.join("")}</cellXfs>`);
  parts.set("xl/styles.xml", grown);
  const sheet = parts.get(REGISTER) ?? "";
  const worn = sheet.replaceAll(/<c r="([A-Z]+\d+)" t="inlineStr"/g, (whole, reference: string) =>
    random.share() < 0.5
      ? `<c r="${reference}" s="${before + random.below(MANY)}" t="inlineStr"`
      : whole,
  );
  parts.set(REGISTER, worn);
}

/** Texts of the register kept once for all cells, as most programs save them. */
function shareTexts(parts: Parts): void {
  const items: string[] = [];
  const sheet = parts.get(REGISTER) ?? "";
  const shared = sheet.replaceAll(
    /t="inlineStr"><is>(.*?)<\/is>/gs,
    (_, text: string) => `t="s"><v>${items.push(`<si>${text}</si>`) - 1}</v>`,
  );
  if (items.length === 0) return;
  parts.set(REGISTER, shared);
  const list = `<sst xmlns="${MAIN}" count="${items.length}" uniqueCount="${items.length}">`;
  parts.set("xl/sharedStrings.xml", `${list}${items.join("")}</sst>`);
  const type = `<Override PartName="/xl/sharedStrings.xml" ContentType="${SHARED_TYPE}"/></Types>`;
  edit(parts, "[Content_Types].xml", /<\/Types>/, type);
  const relation = `<Relationship Id="rIdTexts" Type="${RELATIONS}/sharedStrings" Target="sharedStrings.xml"/></Relationships>`;
  edit(parts, "xl/_rels/workbook.xml.rels", /<\/Relationships>/, relation);
}

/** A filter over the register, on the sheet or on its table; an active one hides a row. */
function setFilter(parts: Parts, { filter, table }: Rough, shape: Shape): void {
  if (filter === "none") return;
  const { headerRow, lastRow, width } = shape;
  const area = { firstRow: headerRow, firstColumn: 0, lastRow, lastColumn: width - 1 };
  const ref = areaText(area);
  const criterion =
    '<filterColumn colId="0"><filters><filter val="VR-101"/></filters></filterColumn>';
  const xml = `<autoFilter ref="${ref}">${filter === "active" ? criterion : ""}</autoFilter>`;
  if (table) edit(parts, TABLE, /<autoFilter[^>]*\/>/, xml);
  else edit(parts, REGISTER, /<\/sheetData>/, `</sheetData>${xml}`);
  if (filter === "active") {
    const last = `<row r="${address(lastRow, 0).slice(1)}"`;
    edit(parts, REGISTER, new RegExp(`${last}(?! hidden)`), `${last} hidden="1"`);
  }
}
