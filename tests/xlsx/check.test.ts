import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { writeDraft } from "../../src/xlsx/package/draft.ts";
import { applyEdit, finish } from "../../src/xlsx/write/apply.ts";
import { newChange } from "../../src/xlsx/write/change.ts";
import { checkSaved } from "../../src/xlsx/write/check.ts";

/** A file just written, spoilt in every way that a writer could spoil it: the check must see each of them. */
const SHEET = "xl/worksheets/sheet1.xml";

const REGISTER: Plan = {
  summary: "a register",
  edits: [
    {
      kind: "addSheet",
      sheet: "Kit",
      widths: [],
      freezeRows: 1,
      cells: ["Device", "Größe", "Twice"].flatMap((heading, column) => [
        { row: 0, column, value: heading },
        ...[1, 2, 3].map((row) => ({
          ...{ row, column },
          value: column === 0 ? `D${row}` : row * 10,
          ...(column === 2 ? { formula: { text: `=B${row + 1}*2`, live: false } } : {}),
        })),
      ]),
    },
  ],
};

const COLUMN: Plan = {
  summary: "a column",
  edits: [
    {
      kind: "addColumn",
      sheet: "Kit",
      headerRow: 0,
      title: "State",
      like: 1,
      width: 12,
      cells: {
        column: 3,
        rows: [1, 2, 3],
        values: ["Überfällig", "Not due", "Not due"],
        formula: { text: 'IF($B{r}>1,"Not due","")', live: false },
      },
      expects: {},
    },
  ],
};

/** Parts that were packed anew need not have the bytes they had. */
function packedAnew({ draft }: ReturnType<typeof newChange>): void {
  for (const [key, entry] of draft.file.byKey) {
    if (!draft.changed.has(key)) draft.changed.set(key, { path: entry.name, content: "" });
  }
}

/** The bytes after the plan, and the change they were made of. */
function written(): { bytes: Uint8Array; change: ReturnType<typeof newChange> } {
  const { file, book } = openWorkbook(newWorkbook(REGISTER));
  const change = newChange(file, book);
  for (const edit of COLUMN.edits) applyEdit(change, edit);
  finish(change);
  return { bytes: writeDraft(change.draft), change };
}

function spoilt(change: (text: string) => string): () => void {
  const saved = written();
  const parts = unzipSync(saved.bytes);
  const before = strFromU8(parts[SHEET] ?? new Uint8Array());
  const after = change(before);
  expect(after).not.toBe(before);
  const bytes = zipSync({ ...parts, [SHEET]: strToU8(after) }, { level: 6 });
  packedAnew(saved.change);
  return () => {
    checkSaved(bytes, saved.change);
  };
}

const CELL = /<c r="D3"[^>]*>.*?<\/c>/;
const ROW = /<row r="3".*?<\/row>/;

const SPOILT: readonly (readonly [string, (text: string) => string])[] = [
  ["a cell of its own lost", (text) => text.replace(CELL, "")],
  ["another's cell lost", (text) => text.replace(/<c r="A3".*?<\/c>/, "")],
  ["a row lost", (text) => text.replace(ROW, "")],
  ["a result changed", (text) => text.replace(CELL, (cell) => cell.replace("Not due", "Overdue"))],
  ["letters beyond the plain ones changed", (text) => text.replace("Überfällig", "Uberfällig")],
  ["another's number changed", (text) => text.replace("<v>20</v>", "<v>21</v>")],
  ["another's text changed", (text) => text.replace(">D2<", ">D3<")],
  ["a number that became a text", (text) => text.replace('"B3"', '"B3" t="str"')],
  ["another's formula changed", (text) => text.replace("B3*2", "B4*2")],
  ["another's formula lost", (text) => text.replace("<f>B3*2</f>", "")],
  ["its formula changed", (text) => text.replace("$B2&gt;1", "$B2&gt;2")],
  ["a cell moved", (text) => text.replace('r="D3"', 'r="E3"')],
  ["cells out of order", (text) => text.replace('r="D3"', 'r="B3"')],
  ["a cell of another row", (text) => text.replace('r="D3"', 'r="D4"')],
  [
    "a cell more",
    (text) => text.replace(ROW, (row) => row.replace("</row>", '<c r="F3"><v>1</v></c></row>')),
  ],
  ["rows out of order", (text) => text.replace(ROW, (row) => row.replaceAll('3"', '1"'))],
  ["a row twice", (text) => text.replace(ROW, (row) => row + row)],
  [
    "XML that is not well formed among the rows",
    (text) => text.replace(CELL, (cell) => cell.slice(0, -4)),
  ],
  [
    "XML that is not well formed behind them",
    (text) => text.replace("</sheetData>", "</sheetData><x>"),
  ],
  ["an end of the rows too many", (text) => text.replace(ROW, (row) => `${row}</sheetData>`)],
  ["no rows", (text) => text.replace(/<sheetData>.*<\/sheetData>/, "<sheetData/>")],
];

describe("a file just written", () => {
  it("passes as it is, also with rows that are spelt in another way", () => {
    const { bytes, change } = written();
    expect(() => {
      checkSaved(bytes, change);
    }).not.toThrow();
    expect(spoilt((text) => text.replaceAll("</row>", "\n</row ><!-- </row> -->"))).not.toThrow();
  });

  it.each(SPOILT)("is refused with %s", (_, change) => {
    expect(spoilt(change)).toThrow(/was not saved|damaged/);
  });

  it("is refused with bytes among its rows that are no text", () => {
    const { bytes, change } = written();
    const parts = unzipSync(bytes);
    const sheet = parts[SHEET] ?? new Uint8Array();
    sheet[strFromU8(sheet, true).indexOf("D2<")] = 0xff;
    packedAnew(change);
    expect(() => {
      checkSaved(zipSync(parts), change);
    }).toThrow(/not UTF-8/);
  });
});
