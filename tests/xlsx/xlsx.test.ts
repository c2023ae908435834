import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { cellKey, type Sheet, type Snapshot, valueAt } from "../../src/book/workbook/snapshot.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import {
  fullPlan,
  MIXED,
  NEW_SHEET,
  registerOf,
  workbook,
  WORKBOOKS,
} from "../reference/workbooks/full-plan.ts";
import { faults, partsOf } from "../reference/workbooks/package-rules.ts";

/** Parts a full plan may change in a book, whatever their spelling; all others keep their bytes. */
const TOUCHED =
  /^(\[content_types\]\.xml|xl\/workbook\.xml|xl\/_rels\/workbook\.xml\.rels|xl\/styles\.xml|xl\/metadata\.xml|xl\/worksheets\/sheet1\.xml|xl\/tables\/table\d\.xml)$/;
const DROPPED = ["xl/calcchain.xml"];

const clean = (name: string): string => name.replaceAll("\\", "/").toLowerCase();

function codeAt(book: Snapshot, sheet: Sheet, row: number, column: number): string {
  return book.formats[sheet.formats[row]?.[column] ?? 0] ?? "General";
}

describe.each(WORKBOOKS)("a full plan on %s", (name) => {
  const bytes = workbook(name);
  const before = openWorkbook(bytes);
  const plan = fullPlan(before.snapshot, true);
  const saved = applyPlan(before, plan);
  const after = openWorkbook(saved);
  const { headerRow, rows, free } = registerOf(before.snapshot);
  const register = registerOf(after.snapshot).sheet;

  it("leaves every part it does not have to touch as it was, byte by byte", () => {
    const old = partsOf(bytes);
    const fresh = partsOf(saved);
    const lost: string[] = [];
    for (const [part, content] of old) {
      const now = fresh.get(part);
      if (!now) lost.push(clean(part));
      else if (!TOUCHED.test(clean(part))) expect(Buffer.compare(now, content), part).toBe(0);
    }
    expect(lost.filter((part) => !DROPPED.includes(part))).toEqual([]);
  });

  it("leaves every cell of the book as it was", () => {
    for (const sheet of before.snapshot.sheets) {
      const now = after.snapshot.sheets.find((other) => other.name === sheet.name);
      if (!now) throw new Error(`${sheet.name} is gone`);
      const { visibility, hiddenColumns, hiddenRows, merges } = sheet;
      expect(now).toMatchObject({
        visibility,
        hiddenRows,
        merges,
        protected: sheet.protected,
      });
      expect(now.filter?.active).toBe(sheet.filter?.active);
      expect(
        [...hiddenColumns]
          .filter((column) => !now.hiddenColumns.has(column))
          .every((column) => column >= free && column < free + 4),
      ).toBe(true);
      for (const [row, line] of sheet.values.entries()) {
        expect(now.values[row]?.slice(0, line.length) ?? []).toEqual(line);
        for (const column of line.keys()) {
          expect(codeAt(after.snapshot, now, row, column)).toBe(
            codeAt(before.snapshot, sheet, row, column),
          );
        }
      }
      for (const [key, formula] of sheet.formulas) expect(now.formulas.get(key)).toBe(formula);
    }
    for (const defined of before.snapshot.names)
      expect(after.snapshot.names).toContainEqual(defined);
  });

  it("writes the new columns with values, formulas and formats", () => {
    const titles = ["Next due", "Twice", "State", "Mixed"];
    expect(titles.map((_, at) => valueAt(register, headerRow, free + at))).toEqual(titles);
    for (const [index, row] of rows.entries()) {
      expect(valueAt(register, row, free)).toBe(Number(valueAt(register, row, 2)) + 365);
      expect(valueAt(register, row, free + 1)).toBe(Number(valueAt(register, row, 3)) * 2);
      expect(valueAt(register, row, free + 3)).toEqual(MIXED[index]);
      expect(register.formulas.get(cellKey(row, free))).toBe(`SPARE.NEXT($C${row + 1},12)`);
      expect(register.formulas.get(cellKey(row, free + 1))).toBe(`$D${row + 1}*2`);
      expect(codeAt(after.snapshot, register, row, free)).toBe("yyyy-mm-dd");
      expect(codeAt(after.snapshot, register, row, free + 1)).toBe("General");
      // A text does not keep the date format of the column it looks like.
      expect(codeAt(after.snapshot, register, row, free + 2)).toBe("General");
    }
  });

  it("adds the sheet at the end with its table, and the name", () => {
    const sheet = after.snapshot.sheets.at(-1);
    expect(sheet?.name).toBe(NEW_SHEET);
    expect(sheet?.tables.map((table) => table.name)).toEqual(["Due_table"]);
    expect(sheet?.values[3]).toEqual(["Month 1", 3, 2, 1, 45001]);
    expect(after.snapshot.names.some((defined) => defined.name === "Due_dates")).toBe(true);
  });

  it("keeps the rules every workbook file must keep", () => {
    expect(faults(bytes)).toEqual([]);
    expect(faults(saved)).toEqual([]);
  });

  it("gives the same bytes each time and is refused a second time", () => {
    expect(Buffer.compare(applyPlan(before, plan), saved)).toBe(0);
    expect(() => applyPlan(after, plan)).toThrow(`a sheet named ${NEW_SHEET} is already there`);
  });
});

describe("the rules of a workbook file", () => {
  it.each([
    ["xl/worksheets/sheet1.xml", '<c r="A2"', '<c r="A9"', "cell B2 out of order"],
    ["xl/worksheets/sheet1.xml", 's="1"', 's="99"', "points to nothing"],
    ["xl/_rels/workbook.xml.rels", "worksheets/sheet2.xml", "worksheets/sheet9.xml", "not there"],
    ["[Content_Types].xml", "/xl/tables/table1.xml", "/xl/tables/table8.xml", "not there"],
    ["xl/tables/table1.xml", 'tableColumns count="4"', 'tableColumns count="5"', "holds 4"],
    ["xl/tables/table2.xml", 'id="2"', 'id="1"', "twice in the book: 1"],
    ["xl/workbook.xml", 'name="Totals"', 'name="register"', "twice in the book: register"],
  ])("find a fault put into %s", (name, old, fresh, fault) => {
    const files = unzipSync(workbook("tables.xlsx"));
    const text = strFromU8(files[name] ?? new Uint8Array());
    expect(text).toContain(old);
    const bytes = zipSync({ ...files, [name]: strToU8(text.replace(old, fresh)) });
    expect(faults(bytes).join("; ")).toContain(fault);
  });
});
