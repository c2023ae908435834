import { describe, expect, it } from "vitest";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import { REPORT_DATE } from "../../../src/book/demo/programme.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { refusals } from "../../../src/book/workbook/expect.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import { receiptOf } from "../../../src/book/workbook/receipt.ts";
import { areaText, type Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { takeBackBars } from "../../../src/book/workbook/take-back.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { offPaper, onPaper } from "../../../taskpane/paper.ts";
import { filteredBook, filterOf, partText } from "../../scenes/filtered.ts";

function planOf(snapshot: Snapshot): Plan {
  const reading = readWorkbook(snapshot, REPORT_DATE, { reportDate: REPORT_DATE });
  return columnsPlan(snapshot, reading, { mode: "portable", today: REPORT_DATE, force: false });
}

/** The rightmost column of the register's sheet. */
function lastColumn({ sheets }: Snapshot): number {
  return Math.max(...(sheets[0]?.values.map((row) => row.length) ?? [])) - 1;
}

describe("a filter of the register's own sheet", () => {
  const { bytes, area } = filteredBook();
  const book = openWorkbook(bytes);
  const plan = planOf(book.snapshot);
  const written = applyPlan(book, plan);
  const after = openWorkbook(written).snapshot;

  it("reaches the new columns, and the summary says so", () => {
    const grown = { ...area, lastColumn: lastColumn(after) };
    expect(grown.lastColumn).toBeGreaterThan(area.lastColumn);
    expect(filterOf(after)).toEqual(grown);
    expect(plan.summary).toContain(`the filter now reaches ${areaText(grown)}`);
  });

  it("keeps its remembered sorting and its name in step, and the name stays hidden", () => {
    const ref = areaText({ ...area, lastColumn: lastColumn(after) });
    const sorted = areaText({
      ...area,
      firstRow: area.firstRow + 1,
      lastColumn: lastColumn(after),
    });
    const sheet = partText(written, "xl/worksheets/sheet1.xml");
    expect(sheet).toContain(`<autoFilter ref="${ref}"><sortState ref="${sorted}"/></autoFilter>`);
    const fixed = ref.replaceAll(/[A-Z]+|\d+/g, "$$$&");
    const name = /<definedName name="_xlnm._FilterDatabase"[^>]*>[^<]*</.exec(
      partText(written, "xl/workbook.xml"),
    );
    expect(name?.[0]).toContain('localSheetId="0" hidden="1"');
    expect(name?.[0]).toContain(`!${fixed}<`);
  });

  it("is left as it is by a second run, and mended where somebody narrowed it", () => {
    expect(planOf(after).edits).toEqual([]);
    const narrow = after.sheets.map((sheet, at) =>
      at === 0 ? { ...sheet, filter: { area, active: false } } : sheet,
    );
    const again = planOf({ ...after, sheets: narrow });
    expect(again.edits.filter(({ kind }) => kind === "growFilter")).toHaveLength(1);
  });

  it("is taken back with the rest, and bars it where it was changed since", () => {
    const receipt = receiptOf(book.snapshot, plan);
    const there = onPaper(book.snapshot, plan);
    expect(filterOf(there)?.lastColumn).toBeGreaterThan(area.lastColumn);
    expect(takeBackBars(there, receipt)).toEqual([]);
    expect(filterOf(offPaper(there, receipt))).toEqual(area);
    const none = there.sheets.map((sheet, at) => (at === 0 ? { ...sheet, filter: null } : sheet));
    expect(takeBackBars({ ...there, sheets: none }, receipt)).toEqual([
      "The filter on Equipment has changed since; it cannot be undone.",
    ]);
    expect(refusals({ ...book.snapshot, sheets: none }, plan)).toContain(
      "the filter of Equipment has changed since it was read",
    );
  });

  it("over a part of the register is widened too; past a stranger's block it is told instead", () => {
    const part = openWorkbook(filteredBook({ columns: 4 }).bytes).snapshot;
    expect(planOf(part).edits.some(({ kind }) => kind === "growFilter")).toBe(true);
    const [first, ...rest] = part.sheets;
    if (first === undefined) throw new Error("no sheet");
    const values = first.values.map((row, at) =>
      at > area.firstRow ? [...row, ...Array<null>(20 - row.length).fill(null), "mine"] : row,
    );
    const beside = planOf({ ...part, sheets: [{ ...first, values }, ...rest] });
    expect(beside.edits.some(({ kind }) => kind === "growFilter")).toBe(false);
    expect(beside.summary).toContain("CAUTION: The filter over A");
  });

  it("that hides rows refuses the columns, as ever", () => {
    const active = openWorkbook(filteredBook({ active: true }).bytes).snapshot;
    expect(refusals(active, planOf(active)).join()).toContain("clear the filter first");
  });
});

describe("a table that ends left of the new columns", () => {
  it("cannot take them in past what stands between, and that is told", () => {
    const { snapshot } = openWorkbook(filteredBook().bytes);
    const [first, ...rest] = snapshot.sheets;
    if (first === undefined) throw new Error("no sheet");
    const { area } = first.filter ?? {};
    if (area === undefined) throw new Error("no filter");
    const narrow = { ...area, lastColumn: area.lastColumn - 1 };
    const headings = (first.values[area.firstRow] ?? []).slice(0, -1).map(String);
    const table = { name: "Devices", area: narrow, headings, totalsRow: false };
    const plan = planOf({
      ...snapshot,
      sheets: [{ ...first, filter: null, tables: [table] }, ...rest],
    });
    expect(plan.summary).toContain("CAUTION: The table Devices over A");
  });
});
