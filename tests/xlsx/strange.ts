import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { workbook } from "../reference/workbooks/full-plan.ts";
import { withPart } from "../reference/workbooks/edits.ts";

/** Books as other programs leave them, each a small one of ours with one peculiarity. */

const TYPES = "[Content_Types].xml";
const STYLES = "xl/styles.xml";
const SPREADSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml";
const RELATIONS = "application/vnd.openxmlformats-package.relationships+xml";
const MC = 'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"';

const plain = workbook("openpyxl.xlsx");

function styled(change: (text: string) => string): Uint8Array {
  return withPart(plain, STYLES, change);
}

function override(name: string, type: string): string {
  return `<Override PartName="/${name}" ContentType="${type}"/>`;
}

/** The types name parts that are not in the file. */
function namedParts(): Uint8Array {
  const ghosts = [
    override("xl/worksheets/Sheet2.xml", `${SPREADSHEET}.worksheet+xml`),
    override("xl/tables/Table2.xml", `${SPREADSHEET}.table+xml`),
    override(
      "xl/charts/chart1.xml",
      "application/vnd.openxmlformats-officedocument.drawingml.chart+xml",
    ),
    override(
      "xl/drawings/drawing1.xml",
      "application/vnd.openxmlformats-officedocument.drawing+xml",
    ),
    override("xl/metadata.xml", `${SPREADSHEET}.sheetMetadata+xml`),
  ];
  return withPart(plain, TYPES, (text) => text.replace("</Types>", `${ghosts.join("")}</Types>`));
}

/** Links lead to parts that are not in the file, or stay of a part that is gone. */
function linkedParts(): Uint8Array {
  const space = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
  const rest = `<Relationship Id="rId90" Type="${space}/customXml" Target="worksheets/sheet2.xml"/>`;
  const files = unzipSync(plain);
  const links = "xl/_rels/workbook.xml.rels";
  const text = strFromU8(files[links] ?? new Uint8Array());
  return zipSync({
    ...files,
    [links]: strToU8(text.replace("</Relationships>", `${rest}</Relationships>`)),
    "xl/drawings/_rels/drawing1.xml.rels": strToU8(
      '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"/>',
    ),
  });
}

/** The styles are gone, with their type; the link to them stayed. */
function withoutStyles(): Uint8Array {
  const { "xl/styles.xml": gone, ...files } = unzipSync(
    withPart(plain, TYPES, (text) => text.replace(/<Override [^>]*styles\.xml"[^>]*>/, "")),
  );
  if (gone === undefined) throw new Error("the book has no styles");
  return zipSync(files);
}

/** Each part with links has a type of its own, and their ending has none. */
function untypedLinks(): Uint8Array {
  const names = Object.keys(unzipSync(plain)).filter((name) => name.endsWith(".rels"));
  const own = names.map((name) => override(name, RELATIONS)).join("");
  return withPart(plain, TYPES, (text) =>
    text.replace(/<Default [^>]*"rels"[^>]*>/, "").replace("</Types>", `${own}</Types>`),
  );
}

/** A list of the styles taken out. */
function without(text: string, list: string): string {
  return text.replace(new RegExp(`<${list}[ >][^]*?</${list}>|<${list}[^>]*/>`), "");
}

/** Each cell format in alternate content; dates stand in cells as their numbers. */
export function alternate(text: string): string {
  return text.replace(/<cellXfs[^>]*>([^]*?)<\/cellXfs>/, (_, list: string) => {
    const items = list.match(/<xf\b[^>]*?(?:\/>|>[^]*?<\/xf>)/g) ?? [];
    const wrapped = items.map(
      (xf) =>
        `<mc:AlternateContent ${MC}><mc:Choice xmlns:v2="http://schemas.openxmlformats.org/spreadsheetml/2006/main/v2" Requires="v2">${xf}</mc:Choice><mc:Fallback>${xf}</mc:Fallback></mc:AlternateContent>`,
    );
    return `<cellXfs count="${items.length}">${wrapped.join("")}</cellXfs>`;
  });
}

/** Every font's children from the last to the first. */
function reversedFonts(text: string): string {
  return text.replace(/<font>([^]*?)<\/font>/g, (_, content: string) => {
    const children = content.match(/<\w+[^>]*\/>/g) ?? [];
    return `<font>${["<u/>", ...children.reverse(), "<strike/>"].join("")}</font>`;
  });
}

/** The books, by what is peculiar of them. */
export const STRANGE: Readonly<Record<string, Uint8Array>> = {
  "types that name parts which are not there": namedParts(),
  "links to parts which are not there": linkedParts(),
  "a link to styles which are not there": withoutStyles(),
  "no type for the ending rels": untypedLinks(),
  "no cell formats": styled((text) => without(text, "cellXfs")),
  "an empty list of cell formats": styled((text) =>
    text.replace(/<cellXfs[^]*?<\/cellXfs>/, '<cellXfs count="0"/>'),
  ),
  "styles without content": styled((text) =>
    text.replace(/<styleSheet([^>]*)>[^]*<\/styleSheet>/, "<styleSheet$1/>"),
  ),
  "no formats of styles": styled((text) =>
    without(without(text, "cellStyleXfs"), "cellStyles").replaceAll(/ xfId="\d+"/g, ""),
  ),
  "no fonts, fills and borders": styled((text) =>
    ["fonts", "fills", "borders"]
      .reduce(without, text)
      .replaceAll(/ (font|fill|border)Id="\d+"/g, ""),
  ),
  "cell formats in alternate content": styled(alternate),
  "fonts in another order": styled(reversedFonts),
};
