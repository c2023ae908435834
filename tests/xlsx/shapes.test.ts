import { describe, expect, it } from "vitest";
import { blankWorkbook } from "../../src/xlsx/index.ts";
import { SHEET_NAME, sheetOf, withPart } from "../reference/workbooks/edits.ts";

// The parts as ECMA-376 part 1, 20.5.2 has them (from memory), laid out as a spreadsheet program writes them.
const TYPES = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

const box = (...paragraphs: readonly string[]): string =>
  `<xdr:twoCellAnchor><xdr:sp><xdr:txBody><a:bodyPr/><a:lstStyle/>${paragraphs
    .map((text) => `<a:p><a:r><a:rPr lang="en-US"/><a:t>${text}</a:t></a:r></a:p>`)
    .join("")}</xdr:txBody></xdr:sp></xdr:twoCellAnchor>`;

const drawing = (...anchors: readonly string[]): string =>
  `<xdr:wsDr xmlns:xdr="x" xmlns:a="a" xmlns:mc="m">${anchors.join("")}</xdr:wsDr>`;

function withDrawing(text: string): Uint8Array {
  const relations = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="d" Type="${TYPES}/drawing" Target="../drawings/drawing1.xml"/>
<Relationship Id="gone" Type="${TYPES}/drawing" Target="../drawings/drawing9.xml"/>
</Relationships>`;
  const bytes = withPart(
    blankWorkbook(SHEET_NAME),
    "xl/worksheets/_rels/sheet1.xml.rels",
    () => relations,
  );
  return withPart(bytes, "xl/drawings/drawing1.xml", () => text);
}

describe("what is written in shapes over the cells of a sheet", () => {
  it("is told shape by shape, each text once", () => {
    const text = drawing(box("Cushion &amp; clip", "torn"), box("A-02"), box("A-02"), box(""));
    expect(sheetOf(withDrawing(text)).shapes).toEqual(["Cushion & clip\ntorn", "A-02"]);
  });

  it("is nothing where a program speaks in place of a shape, or where there is none", () => {
    const slicer = `<mc:AlternateContent><mc:Choice><xdr:graphicFrame/></mc:Choice><mc:Fallback>${box("This shape represents a slicer.")}</mc:Fallback></mc:AlternateContent>`;
    expect(sheetOf(withDrawing(drawing(slicer, box("A-02")))).shapes).toEqual(["A-02"]);
    expect(sheetOf(withDrawing(drawing("<xdr:pic/>"))).shapes).toBeUndefined();
    expect(sheetOf(blankWorkbook(SHEET_NAME)).shapes).toBeUndefined();
  });
});
