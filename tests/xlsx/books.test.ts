import { unzipSync, Zip, ZipDeflate } from "fflate";
import { describe, expect, it } from "vitest";
import type { Edit } from "../../src/book/workbook/plan.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { after, fill, part, sheetOf } from "../reference/workbooks/edits.ts";
import { workbook } from "../reference/workbooks/full-plan.ts";
import { faults } from "../reference/workbooks/package-rules.ts";

describe("tables", () => {
  const bytes = workbook("tables.xlsx");

  it("take in rows just added below them", () => {
    const area = { firstRow: 0, firstColumn: 0, lastRow: 10, lastColumn: 3 };
    const rows = [9, 10];
    const saved = after(bytes, fill([{ column: 0, rows, values: ["D009", "D010"] }], "Register"), {
      kind: "growTable",
      sheet: "Register",
      table: "Devices",
      area,
      columns: [],
    });
    const sheet = sheetOf(saved);
    expect(sheet.tables[0]?.area).toEqual(area);
    expect(sheet.filter?.area).toEqual(area);
    expect(sheet.values[10]?.[0]).toBe("D010");
    expect(faults(saved)).toEqual([]);
  });

  it("take in columns beside a totals row, which the filter leaves out", () => {
    const [, totals] = openWorkbook(bytes).snapshot.sheets;
    const area = { firstRow: 1, firstColumn: 1, lastRow: 5, lastColumn: 2 };
    expect(totals?.tables[0]).toMatchObject({ area, totalsRow: true });
    const column = 3;
    const grown = { ...area, lastColumn: column };
    const rows = [2, 3, 4];
    const formula = { text: "SPARE.NEXT($C{r},2)", live: true };
    const saved = after(
      bytes,
      {
        kind: "addColumn",
        sheet: "Totals",
        headerRow: 1,
        title: "Next",
        like: 2,
        width: 9,
        cells: { column, rows, values: [1, 2, 3], formula },
        expects: {},
      },
      {
        kind: "growTable",
        sheet: "Totals",
        table: "WIPES",
        area: grown,
        columns: [{ title: "Next", formula }],
      },
    );
    const text = part(saved, "xl/tables/table2.xml");
    expect(text).toContain(
      '<calculatedColumnFormula array="1">_xldudf_SPARE_NEXT($C3,2)</calculatedColumnFormula>',
    );
    expect(text).toMatch(/ref="B2:D6".*<autoFilter ref="B2:D5"/);
    expect(faults(saved)).toEqual([]);
  });
});

describe("archives", () => {
  it("whose sizes stand behind the data are saved with the same packed bytes", () => {
    const chunks: Uint8Array[] = [];
    const zip = new Zip((_, chunk) => chunks.push(chunk));
    for (const [name, content] of Object.entries(unzipSync(workbook("formulas.xlsx")))) {
      const file = new ZipDeflate(name);
      zip.add(file);
      file.push(content, true);
    }
    zip.end();
    const streamed = new Uint8Array(Buffer.concat(chunks));
    const saved = after(streamed, fill([{ column: 9, rows: [1], values: ["x"] }], "Register"));
    expect(sheetOf(saved).values[1]?.[9]).toBe("x");
    expect(Object.keys(unzipSync(saved))).toEqual(Object.keys(unzipSync(streamed)));
  });

  it("opened once take one plan after another without a trace of the first", () => {
    const open = openWorkbook(workbook("formulas.xlsx"));
    const column = { column: 9, rows: [1], values: [1] };
    const plan = (format: string): Edit => fill([{ ...column, format }], "Register");
    applyPlan(open, { summary: "x", edits: [plan("0.000")] });
    const saved = applyPlan(open, { summary: "x", edits: [plan("0.0000")] });
    expect(openWorkbook(saved).snapshot.formats).toContain("0.0000");
    expect(openWorkbook(saved).snapshot.formats).not.toContain("0.000");
  });
});

describe("reading", () => {
  it("takes every type of cell of a book without styles, texts and references", () => {
    const sheet = sheetOf(workbook("bare.xlsx"));
    // 45351 is 2024-02-29 in the 1900 system (the serial numbers of LibreOffice agree).
    expect(sheet.values[10]).toEqual([true, { error: "#N/A" }, 45351, null, "a\rb & <c>"]);
    expect(sheet.values[1]).toEqual(["D001", "S02", 45030, 100]);
  });

  it("tells filters, hidden rows and columns, merges, protection and visibility", () => {
    const untidy = sheetOf(workbook("untidy.xlsx"));
    expect(untidy.filter).toEqual({
      area: { firstRow: 2, firstColumn: 0, lastRow: 10, lastColumn: 3 },
      active: true,
    });
    expect([...untidy.hiddenRows]).toEqual([3, 4, 6, 7, 9, 10]);
    expect([...untidy.hiddenColumns]).toEqual([3]);
    expect(untidy.merges).toHaveLength(2);
    const lists = openWorkbook(workbook("everything.xlsx")).snapshot.sheets[1];
    expect([lists?.name, lists?.protected, lists?.visibility]).toEqual(["Lists", true, "hidden"]);
  });

  it("leaves chart sheets out of the sheets and names with the sheet they belong to", () => {
    const { sheets, names } = openWorkbook(workbook("everything.xlsx")).snapshot;
    expect(sheets.map(({ name }) => name)).toEqual(["Register", "Lists", "Charts", "Pivot"]);
    expect(names).toContainEqual({
      name: "Local",
      sheet: "Register",
      refersTo: "Register!$D$2:$D$9",
    });
    expect(names.some(({ name }) => name.startsWith("_xlnm"))).toBe(false);
  });
});
