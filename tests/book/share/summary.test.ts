import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { NODE_CODEC } from "../../../src/cli/files.ts";
import { openWorkbook } from "../../../src/xlsx/index.ts";
import { sparespan } from "../../cli/session.ts";
import { DEMO } from "../../taskpane/desk.ts";
import { onPaper } from "../../../taskpane/paper.ts";
import { summaryOf } from "../../../src/book/share/summary.ts";
import { summaryChange } from "../../../src/book/share/summary-sheet.ts";
import { resultPlan } from "../../../src/book/sheets/result-plan.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import type { AddChart, Plan } from "../../../src/book/workbook/plan.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { REPORT_DATE } from "../../../src/book/demo/programme.ts";
import { faults } from "../../reference/workbooks/package-rules.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-summary-"));
const at = (name: string): string => join(folder, name);
const CLEAN = at("velloran-20260706-clean.xlsx");
const UNTIDY = at("velloran-20260706-untidy.xlsx");
const JULY = ["--report-date", "2026-07-06"];
beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Told {
  readonly answer: string;
  readonly lines: readonly { what: string; figure: number | null; detail: string }[];
}

async function json<T = Record<string, unknown>>(...words: string[]): Promise<T> {
  return JSON.parse((await sparespan(...words, "--json", ...JULY)).out) as T;
}

/** The figures of a summary by what they are. */
async function figures(book: string): Promise<Map<string, number | null>> {
  const { lines } = await json<Told>("summary", book);
  return new Map(lines.map(({ what, figure }) => [what, figure]));
}

describe("summary", () => {
  it.each([CLEAN, UNTIDY])("tells of %s what the jobs tell", async (book) => {
    const told = await figures(book);
    const today = await json("today", book);
    expect(told.get("Parts overdue")).toBe(today["overdue"]);
    expect(told.get("Parts to check")).toBe(today["toCheck"]);
    expect(told.get("Parts due soon")).toBe(today["dueSoon"]);
    const budget = await json("budget", book);
    const upper = [...told].find(([what]) => what.endsWith("upper figure"));
    expect(upper?.[1]).toBe(budget["upper"]);
    const { measures } = await json("evidence", book);
    const all = measures as { name: string; site: string; due: number; done: number }[];
    const kept = all.find(({ name, site }) => name === "Inspections kept" && site === "All");
    expect(told.get("Inspections kept")).toBeCloseTo((kept?.done ?? NaN) / (kept?.due ?? NaN), 2);
    const ahead = await json("ahead", book);
    const parts = ahead["parts"] as { total: { expected: number }; task?: boolean }[];
    const most = parts.reduce((sum, { total }) => sum + total.expected, 0);
    expect(told.get("Replacements in 12 months")).toBeLessThanOrEqual(most);
    expect(told.get("Replacements in 12 months")).toBeGreaterThan(0);
  });

  it("is a page of its own with three pictures, and a sheet behind each", async () => {
    const out = at("summary.xlsx");
    const { code, out: said } = await sparespan("summary", CLEAN, "-o", out, ...JULY);
    expect(code).toBe(0);
    expect(said).toContain("2 parts overdue, 0 to check;");
    const bytes = readFileSync(out);
    expect(faults(bytes)).toEqual([]);
    const { snapshot } = openWorkbook(bytes, { codec: NODE_CODEC });
    expect(snapshot.sheets.map(({ name }) => name)).toEqual([
      "Summary",
      "Parts on a page",
      "Weeks kept",
      "Year ahead",
      "Budget",
      "Budget calculation",
      "Assumptions",
    ]);
    expect(snapshot.sheets[0]?.values[1]?.[0]).toMatch(/^2 parts overdue/);
  });

  it("never writes over the workbook", async () => {
    expect((await sparespan("summary", CLEAN, "--in-place")).err).toContain("never changes");
    expect((await sparespan("summary", CLEAN, "-o", CLEAN)).err).toContain("names the workbook");
  });

  it("is put into a workbook that is there, and put there anew the next time", () => {
    const today = REPORT_DATE;
    const put = (book: Snapshot): Plan => {
      const reading = readWorkbook(book, today, { reportDate: today });
      const change = summaryChange(summaryOf(book, reading), book);
      return resultPlan(book, reading, { ...change, today });
    };
    const charts = (plan: Plan): AddChart[] =>
      plan.edits.filter((edit) => edit.kind === "addChart");
    const first = put(DEMO);
    const there = onPaper(DEMO, first);
    const second = put(there);
    const after = onPaper(there, second);
    const added = after.sheets.slice(DEMO.sheets.length).map(({ name }) => name);
    expect(added).toEqual([
      ...["Summary", "Parts on a page", "Weeks kept", "Year ahead", "Budget"],
      ...["Budget calculation", "Assumptions", "Read me", "Summary (2)", "Parts on a page (2)"],
    ]);
    for (const [plan, page] of [
      [first, "Summary"],
      [second, "Summary (2)"],
    ] as const) {
      const here = charts(plan).filter(({ sheet }) => sheet === page);
      expect(here).toHaveLength(3);
      for (const { series } of here) {
        for (const { values } of series)
          expect(values).toMatch(/^'?(?:Weeks kept|Year ahead|Budget)'?!/);
      }
      const of = plan.edits.findIndex((edit) => edit === here[0]);
      // A picture comes after the sheets it is drawn from.
      expect(plan.edits.slice(of).some(({ kind }) => kind === "addTable")).toBe(false);
    }
  });
});
