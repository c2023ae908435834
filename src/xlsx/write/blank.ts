import { encode, type Codec } from "../file/codec.ts";
import { emptySheet } from "./new-sheet.ts";
import { emptyStyles } from "../read/looks.ts";
import { escaped } from "../xml/escape.ts";
import { newEntry, pack, writeZip } from "../file/write-zip.ts";

const SPACE = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml";
const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';

/** The bytes of an empty workbook; without a sheet's name it has none yet, and a plan must add one. */
export function blankBytes(
  sheet: string | null,
  dateSystem: 1900 | 1904,
  codec: Codec,
): Uint8Array {
  const parts: [string, string][] = [
    [
      "[Content_Types].xml",
      `<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
        '<Default Extension="xml" ContentType="application/xml"/>' +
        `<Override PartName="/xl/workbook.xml" ContentType="${TYPE}.sheet.main+xml"/>` +
        (sheet === null
          ? ""
          : `<Override PartName="/xl/worksheets/sheet1.xml" ContentType="${TYPE}.worksheet+xml"/>`) +
        `<Override PartName="/xl/styles.xml" ContentType="${TYPE}.styles+xml"/></Types>`,
    ],
    [
      "_rels/.rels",
      `<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${RELATIONS}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    ],
    [
      "xl/workbook.xml",
      `<workbook xmlns="${SPACE}" xmlns:r="${RELATIONS}"><workbookPr${dateSystem === 1904 ? ' date1904="1"' : ""}/>` +
        '<bookViews><workbookView xWindow="0" yWindow="0" windowWidth="24000" windowHeight="12000"/></bookViews>' +
        (sheet === null
          ? "<sheets/>"
          : `<sheets><sheet name="${escaped(sheet)}" sheetId="1" r:id="rId2"/></sheets>`) +
        "</workbook>",
    ],
    [
      "xl/_rels/workbook.xml.rels",
      `<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${RELATIONS}/styles" Target="styles.xml"/>` +
        (sheet === null
          ? ""
          : `<Relationship Id="rId2" Type="${RELATIONS}/worksheet" Target="worksheets/sheet1.xml"/>`) +
        "</Relationships>",
    ],
    ["xl/styles.xml", emptyStyles(SPACE)],
  ];
  if (sheet !== null) parts.push(["xl/worksheets/sheet1.xml", emptySheet(SPACE, RELATIONS, 0)]);
  return writeZip(parts.map(([name, text]) => newEntry(name, pack(encode(HEAD + text), codec))));
}
