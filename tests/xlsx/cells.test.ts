import fc from "fast-check";
import { deflateRawSync, inflateRawSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import type { Edit } from "../../src/book/workbook/plan.ts";
import { type CellValue, cellKey } from "../../src/book/workbook/snapshot.ts";
import { applyPlan, blankWorkbook, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import {
  expanded,
  sharedFormula,
  shownFormula,
  storedFormula,
} from "../../src/xlsx/read/formulas.ts";
import { after, fill, part, SHEET_NAME, sheetOf, withPart } from "../reference/workbooks/edits.ts";
import { workbook } from "../reference/workbooks/full-plan.ts";
import { faults, partsOf } from "../reference/workbooks/package-rules.ts";

const ONE = blankWorkbook(SHEET_NAME);
const SHEET = "xl/worksheets/sheet1.xml";

const anyText = fc.string({ unit: "binary", maxLength: 40 });
const oddText = fc.constantFrom(
  "",
  " ",
  "_x0041_",
  "_x",
  "a\r\nb",
  "\u0000",
  "\ud800",
  "]]>",
  "<v>",
  "&amp;",
  "'=1",
);
const anyValue: fc.Arbitrary<CellValue> = fc.oneof(
  anyText,
  oddText,
  fc.double({ noNaN: true, noDefaultInfinity: true }).map((number) => (number === 0 ? 0 : number)),
  fc.integer(),
  fc.boolean(),
  fc.constantFrom("#N/A", "#VALUE!", "#DIV/0!").map((error) => ({ error })),
  fc.constant(null),
);

describe("cells", () => {
  it("come back as they were written, with and without a formula", () => {
    fc.assert(
      fc.property(
        fc.array(anyValue, { minLength: 1, maxLength: 12 }),
        fc.boolean(),
        (values, formula) => {
          const rows = values.map((_, index) => index * 3 + 1);
          const cells = { column: 2, rows, values };
          const text = { text: '"<&>"&A{r}', live: false };
          const saved = after(ONE, fill([formula ? { ...cells, formula: text } : cells]));
          const sheet = sheetOf(saved);
          for (const [index, row] of rows.entries()) {
            expect(sheet.values[row]?.[2] ?? null).toEqual(values[index]);
            const own = formula ? `"<&>"&A${row + 1}` : undefined;
            expect(sheet.formulas.get(cellKey(row, 2))).toBe(own);
          }
          expect(faults(saved)).toEqual([]);
        },
      ),
    );
  });

  it("may be written anywhere in any order, again and again, and the last word counts", () => {
    const write = fc.record({ row: fc.nat(40), column: fc.nat(30), value: anyValue });
    fc.assert(
      fc.property(fc.array(fc.array(write, { maxLength: 15 }), { maxLength: 4 }), (plans) => {
        const wanted = new Map<number, CellValue>();
        let bytes: Uint8Array = ONE;
        for (const writes of plans) {
          for (const { row, column, value } of writes) wanted.set(cellKey(row, column), value);
          const blocks = writes.map(({ row, column, value }) => ({
            column,
            rows: [row],
            values: [value],
          }));
          bytes = after(bytes, fill(blocks));
        }
        const sheet = sheetOf(bytes);
        for (const [key, value] of wanted) {
          expect(sheet.values[Math.floor(key / 16384)]?.[key % 16384] ?? null).toEqual(value);
        }
        const filled = sheet.values.flat().filter((value) => value !== null).length;
        expect(filled).toBe([...wanted.values()].filter((value) => value !== null).length);
        expect(faults(bytes)).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it("keep their look when filled, and pass it down to cells that are new below, headings excepted", () => {
    const bytes = workbook("dates1904.xlsx");
    const cells = { column: 2, rows: [1, 9, 10], values: [1, 2, 3] };
    const header = { headers: [{ row: 0, column: 2, text: "Replaced" }] };
    const saved = after(bytes, { ...fill([cells], "Register"), expects: header } as Edit);
    const styles = [...part(saved, SHEET).matchAll(/<c r="(C\d+)" s="(\d+)"/g)].map(
      ([, cell, style]) => `${cell ?? ""}:${style ?? ""}`,
    );
    const [, own] = /<c r="C3" s="(\d+)"/.exec(part(bytes, SHEET)) ?? [];
    expect(styles).toEqual(
      expect.arrayContaining([2, 10, 11].map((row) => `C${row}:${own ?? "none"}`)),
    );
    const heads = { column: 7, rows: [1], values: ["x"] };
    expect(
      part(after(bytes, { ...fill([heads], "Register"), expects: header } as Edit), SHEET),
    ).toContain('<c r="H2" t=');
  });

  it("cleared keep their look and lose their content", () => {
    const saved = after(
      workbook("dates1904.xlsx"),
      fill([{ column: 2, rows: [1], values: [null] }], "Register"),
    );
    expect(part(saved, SHEET)).toMatch(/<c r="C2" s="\d+"\/>/);
    expect(sheetOf(saved).values[1]?.[2]).toBeNull();
  });
});

describe("formulas", () => {
  // Forms: [MS-XLSX] 2.2.2 for the prefixes; the form of an add-in's functions as Excel saves it, from memory of public records.
  it.each([
    ["IFS(A1,1)", "_xlfn.IFS(A1,1)"],
    ["MAXIFS(A:A,B:B,1)+maxifs(A:A,B:B,2)", "_xlfn.MAXIFS(A:A,B:B,1)+_xlfn.MAXIFS(A:A,B:B,2)"],
    [
      "WORKDAY.INTL(A1,1,1)+NETWORKDAYS.INTL(A1,B1)",
      "WORKDAY.INTL(A1,1,1)+NETWORKDAYS.INTL(A1,B1)",
    ],
    ["SORT(FILTER(A1:A9,B1:B9))", "_xlfn._xlws.SORT(_xlfn._xlws.FILTER(A1:A9,B1:B9))"],
    ['"IFS("&TEXTJOIN(",",TRUE,A1:A3)', '"IFS("&_xlfn.TEXTJOIN(",",TRUE,A1:A3)'],
    ["'IFS('!A1+Table1[IFS(]", "'IFS('!A1+Table1[IFS(]"],
    ["SPARE.NEXT(A1,12)", "_xldudf_SPARE_NEXT(A1,12)"],
    [
      "IF(A1,SPARE.DUE(SPARE.NEXT(A1,2)),MYIFS(1))",
      "IF(A1,_xldudf_SPARE_DUE(_xldudf_SPARE_NEXT(A1,2)),MYIFS(1))",
    ],
  ])("%s is stored as %s and shown as it was", (shown, stored) => {
    expect(storedFormula(shown)).toBe(stored);
    expect(shownFormula(stored)).toBe(shown.replace("maxifs", "MAXIFS"));
  });

  it.each([
    ["[2]!_xldudf_spare_next(A1)", "SPARE.NEXT(A1)"],
    ['"_xldudf_SPARE_NEXT("&_XLFN.CONCAT(A1)', '"_xldudf_SPARE_NEXT("&CONCAT(A1)'],
    ["_xlfn.LET(_xlpm.a,1,_xlpm.a+1)", "LET(a,1,a+1)"],
    ["my_xlfn.x+[1]Prices!A1", "my_xlfn.x+[1]Prices!A1"],
  ])("%s of a file is shown as %s", (stored, shown) => {
    expect(shownFormula(stored)).toBe(shown);
  });

  it.each([
    ["D2*2+$D$2+D$2+$D2", "E4*2+$D$2+E$2+$D4"],
    ["\"D2\"&Q1!A1&'D2 x'!A1", "\"D2\"&Q1!B3&'D2 x'!B3"],
    ["SUM(D:D,2:2,$D:E,LOG10(D2),D2x,T[D2])", "SUM(E:E,4:4,$D:F,LOG10(E4),D2x,T[D2])"],
    ["XFD1048575", "A1"],
  ])("%s shared moves to %s one column right and two rows down", (text, moved) => {
    expect(expanded(sharedFormula(text, 1, 3), 3, 4)).toBe(moved);
  });

  it("shared by others are written out when their first cell is written over", () => {
    const bytes = workbook("formulas.xlsx");
    const before = sheetOf(bytes).formulas;
    const saved = after(bytes, fill([{ column: 4, rows: [1, 4], values: [7, 8] }], "Register"));
    const sheet = sheetOf(saved);
    for (let row = 1; row <= 8; row += 1) {
      const own = row === 1 || row === 4 ? undefined : `D${row + 1}*2`;
      expect(sheet.formulas.get(cellKey(row, 4))).toBe(own);
      expect(before.get(cellKey(row, 4))).toBe(`D${row + 1}*2`);
    }
    expect(part(saved, SHEET)).not.toContain('t="shared"');
  });

  it("of a column are stored once where its rows allow it, and each on its own where not", () => {
    const rows = Array.from({ length: 50 }, (_, index) => index + 1);
    const values = rows.map((row) => row * 2);
    const once = (text: string): boolean => {
      const saved = after(ONE, fill([{ column: 1, rows, values, formula: { text, live: false } }]));
      for (const row of rows) {
        expect(sheetOf(saved).formulas.get(cellKey(row, 1))).toBe(
          text.replaceAll("{r}", String(row + 1)),
        );
      }
      return part(saved, SHEET).includes('t="shared"');
    };
    expect(once("$A{r}*2+Rate+$C$1")).toBe(true);
    expect(once("$A{r}*2+C1")).toBe(false);
    expect(once('"A{r}"&A{r}')).toBe(false);
    expect(once("Lists!A{r}")).toBe(false);
    expect(once("A1{r}")).toBe(false);
    expect(once("A{r}{r}")).toBe(false);
  });

  it("of the add-in carry the mark of a dynamic array, found or added in the book", () => {
    const live = { text: "SPARE.NEXT(A{r},12)", live: true };
    const cells = { column: 9, rows: [1, 2], values: [45000, "x"], formula: live };
    const fresh = after(ONE, fill([cells]));
    expect(part(fresh, SHEET)).toContain(
      '<c r="J2" cm="1"><f t="array" ref="J2">_xldudf_SPARE_NEXT(A2,12)</f><v>45000</v></c>',
    );
    expect(part(fresh, "xl/metadata.xml")).toContain('fDynamic="1"');
    const bytes = workbook("formulas.xlsx");
    const known = after(bytes, fill([cells], "Register"));
    // The book has the mark already: its part keeps its bytes.
    expect(part(known, "xl/metadata.xml")).toBe(part(bytes, "xl/metadata.xml"));
    const other = withPart(bytes, "xl/metadata.xml", (text) =>
      text.replace('fDynamic="1"', 'fDynamic="0"'),
    );
    const added = after(other, fill([cells], "Register"));
    expect(part(added, "xl/metadata.xml")).toContain('<cellMetadata count="2">');
    expect(part(added, SHEET)).toContain('<c r="J2" cm="2">');
    expect(faults(added)).toEqual([]);
  });
});

describe("bookkeeping", () => {
  const chained = workbook("everything.xlsx");

  it("drops the chain of calculation with its link and type when a formula changes, and only then", () => {
    const cells = { column: 9, rows: [1], values: [1] };
    const plain = after(chained, fill([cells], "Register"));
    expect(partsOf(plain).has("xl/calcChain.xml")).toBe(true);
    const formula = { text: "1", live: false };
    const saved = after(chained, fill([{ ...cells, formula }], "Register"));
    expect(partsOf(saved).has("xl/calcChain.xml")).toBe(false);
    expect(
      part(saved, "[Content_Types].xml") + part(saved, "xl/_rels/workbook.xml.rels"),
    ).not.toMatch(/calcchain/i);
    const cleared = after(chained, fill([{ column: 3, rows: [9], values: [null] }], "Register"));
    expect(partsOf(cleared).has("xl/calcChain.xml")).toBe(false);
  });

  it.each([
    [3, 999, "SUM(D2:D9)", true, "a cell another formula sums"],
    [3, 100, "SUM(D2:D9)", false, "the same value as before"],
    [9, 5, "SUM(D2:D9)", false, "a cell nobody reads"],
    [0, 5, "SUM(Moving)", true, "a cell a name may reach"],
    [9, 5, "SUM(Lists:Charts!A1)", true, "a cell on one of several sheets"],
    [9, 5, "SUM(2:2)", true, "a cell of a whole row"],
    [3, 5, "SUM(Charts!D:D)", false, "the same column of another sheet"],
    [3, 5, "SUM(register!D:D)", true, "its own sheet by name"],
  ])(
    "column %i given %i under %s asks for calculation: %s (%s)",
    (column, value, formula, asks) => {
      const read = withPart(chained, SHEET, (text) => text.replace("SUM(D2:D9)", formula));
      const bytes = withPart(read, "xl/workbook.xml", (text) =>
        text.replace(' fullCalcOnLoad="1"', ""),
      );
      const saved = after(bytes, fill([{ column, rows: [1], values: [value] }], "Register"));
      expect(part(saved, "xl/workbook.xml").includes('fullCalcOnLoad="1"')).toBe(asks);
    },
  );

  it("keeps a name that means the same and refuses one that means something else", () => {
    const name = (refersTo: string): Edit => ({ kind: "addName", name: "HALF", refersTo });
    expect(part(after(chained, name("0.5")), "xl/workbook.xml")).toBe(
      part(chained, "xl/workbook.xml"),
    );
    expect(() => after(chained, name("0.6"))).toThrow(
      "Nothing was changed: the name HALF already refers to 0.5.",
    );
  });

  it("sets up print and keeps columns that repeat and headers", () => {
    const titled = withPart(chained, "xl/workbook.xml", (text) =>
      text.replace(">Register!$1:$1<", ">Register!$A:$B,Register!$1:$1<"),
    );
    const titleRows = { first: 0, last: 1 };
    const edit: Edit = {
      kind: "printSetup",
      titleColumns: 0,
      orientation: "landscape",
      pagesWide: 1,
      sheet: "Register",
      titleRows,
      footer: "Page &P",
    };
    const saved = after(titled, edit);
    expect(part(saved, "xl/workbook.xml")).toContain(">Register!$A:$B,Register!$1:$2<");
    expect(part(saved, SHEET)).toContain(
      "<headerFooter><oddHeader>&amp;LVelloran&amp;RPage &amp;P</oddHeader><oddFooter>&amp;CPage &amp;P</oddFooter></headerFooter>",
    );
    expect(part(saved, SHEET)).toContain('<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>');
    expect(part(saved, SHEET)).toMatch(/<pageSetup[^>]* orientation="landscape"/);
  });

  it("gives rules their number after those of the sheet's extensions", () => {
    const area = { firstRow: 1, firstColumn: 0, lastRow: 3, lastColumn: 0 };
    const rules = [{ formula: "A2>1", look: { bold: true } }];
    const saved = after(chained, { kind: "addRule", sheet: "Charts", area, rules });
    const text = part(saved, "xl/worksheets/sheet3.xml");
    const numbers = [...text.matchAll(/<(?:x14:)?cfRule[^>]*priority="(\d+)"/g)].map(([, number]) =>
      Number(number),
    );
    expect(new Set(numbers).size).toBe(numbers.length);
    expect(Math.max(...numbers)).toBe(
      Number(/type="expression"[^>]*priority="(\d+)"/.exec(text)?.[1]),
    );
  });

  it("cuts a run of columns around a new width and changes nothing else of it", () => {
    const edit: Edit = {
      kind: "addColumn",
      sheet: "Register",
      headerRow: 0,
      title: "New",
      like: 3,
      width: 12,
      cells: { column: 7, rows: [1], values: [1] },
      expects: {},
    };
    const text = part(after(chained, edit), SHEET);
    const runs = [...text.matchAll(/<col min="(\d+)" max="(\d+)"[^>]*>/g)].map(
      ([tag, min, max]) => `${min ?? ""}-${max ?? ""}${tag.includes("hidden") ? " hidden" : ""}`,
    );
    expect(runs).toEqual(["1-1", "7-7 hidden", "8-8", "9-16384 hidden"]);
  });

  it("gives the same with the machine's own codec", () => {
    const codec = {
      inflate: (bytes: Uint8Array) => inflateRawSync(bytes),
      deflate: (bytes: Uint8Array) => deflateRawSync(bytes),
    };
    const edits = [fill([{ column: 9, rows: [1], values: ["x"] }], "Register")];
    const open = openWorkbook(chained, { codec });
    const saved = applyPlan(open, { summary: "x", edits });
    expect(openWorkbook(saved).snapshot).toEqual(openWorkbook(after(chained, ...edits)).snapshot);
  });

  it("makes a book of a plan alone in either date system", () => {
    const cells = [{ row: 0, column: 0, value: "Title", look: "title" } as const];
    const edits: Edit[] = [
      {
        kind: "addSheet",
        sheet: "First",
        cells,
        widths: [20],
        freezeRows: 1,
        hiddenRows: [4],
        merges: [{ firstRow: 0, firstColumn: 0, lastRow: 0, lastColumn: 2 }],
      },
    ];
    const made = newWorkbook({ summary: "x", edits }, { dateSystem: 1904 });
    const { snapshot } = openWorkbook(made);
    expect(snapshot.dateSystem).toBe(1904);
    expect(snapshot.sheets.map(({ name }) => name)).toEqual(["First"]);
    expect([...(snapshot.sheets[0]?.hiddenRows ?? [])]).toEqual([4]);
    expect(snapshot.sheets[0]?.merges).toHaveLength(1);
    expect(faults(made)).toEqual([]);
    expect(faults(ONE)).toEqual([]);
  });
});
