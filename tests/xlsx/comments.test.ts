import { describe, expect, it } from "vitest";
import { cellKey } from "../../src/book/workbook/snapshot.ts";
import { blankWorkbook } from "../../src/xlsx/index.ts";
import { SHEET_NAME, sheetOf, withPart } from "../reference/workbooks/edits.ts";

// The parts as ECMA-376 part 1, 18.7 has them, and threads as [MS-XLSX] 2.6.204 (both from memory).
const TYPES = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const THREADS = "http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments";

const NOTES = `<comments xmlns="${MAIN}"><authors><author>A</author></authors><commentList>
<comment ref="C3" authorId="0"><text><r><rPr><b/></rPr><t>Ann:</t></r><r><t xml:space="preserve">
NOT changed</t></r></text></comment>
<comment ref="D4" authorId="0"><text><t>[Threaded comment] Your version allows you to read it. Comment: sure?</t></text></comment>
</commentList></comments>`;
const THREAD = `<ThreadedComments xmlns="${THREADS}">
<threadedComment ref="D4" id="{1}" personId="{9}"><text>sure?</text></threadedComment>
<threadedComment ref="D4" id="{2}" parentId="{1}" personId="{9}"><text>no, 2 May &amp; 3 May</text></threadedComment>
</ThreadedComments>`;

function withComments(notes = NOTES, thread = THREAD): Uint8Array {
  const relations = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="n" Type="${TYPES}/comments" Target="../comments1.xml"/>
<Relationship Id="t" Type="http://schemas.microsoft.com/office/2017/10/relationships/threadedComment" Target="../threadedComments/threadedComment1.xml"/>
<Relationship Id="gone" Type="${TYPES}/comments" Target="../comments9.xml"/>
</Relationships>`;
  const parts: readonly (readonly [string, string])[] = [
    ["xl/worksheets/_rels/sheet1.xml.rels", relations],
    ["xl/comments1.xml", notes],
    ["xl/threadedComments/threadedComment1.xml", thread],
  ];
  return parts.reduce(
    (bytes, [name, text]) => withPart(bytes, name, () => text),
    blankWorkbook(SHEET_NAME),
  );
}

describe("notes and comments of a sheet", () => {
  it.each([[""], ['<?xml version="1.0" encoding="UTF-8"?>'], ["<!-- gone -->"]])(
    "are none where a program left an empty part behind: %j",
    (left) => {
      expect(sheetOf(withComments(left, left)).comments ?? new Map()).toEqual(new Map());
    },
  );
  it("are told by cell, a thread by its own words with its answers", () => {
    expect(sheetOf(withComments()).comments).toEqual(
      new Map([
        [cellKey(2, 2), "Ann:\nNOT changed"],
        [cellKey(3, 3), "sure?\nno, 2 May & 3 May"],
      ]),
    );
  });

  it("are absent where there are none", () => {
    expect(sheetOf(blankWorkbook(SHEET_NAME)).comments).toBeUndefined();
  });
});
