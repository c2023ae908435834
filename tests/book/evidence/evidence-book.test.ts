import { headingRow } from "../../../src/book/sheets/layout.ts";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type EvidenceReport, evidenceReport } from "../../../src/book/evidence/report.ts";
import { lateSheet } from "../../../src/book/evidence/late-work.ts";
import { resultEdits } from "../../../src/book/sheets/result.ts";
import {
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { day } from "../../../src/core/day.ts";
import { openWorkbook } from "../../../src/xlsx/index.ts";
import { programme } from "../../scenes/kept-scene.ts";
import { jobOf } from "../../scenes/scene.ts";
import { sparespan } from "../../cli/session.ts";
import { onPaper } from "../../taskpane/paper.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-evidence-"));
const at = (name: string): string => join(folder, name);
const CLEAN = at("velloran-20260706-clean.xlsx");
const UNTIDY = at("velloran-20260706-untidy.xlsx");
const JULY = ["--report-date", "2026-07-06"];
const SHEETS = ["Evidence", "Inspections", "Weeks kept", "Late work", "Findings", "Lots fitted"];

interface Told {
  readonly from: string;
  readonly measures: readonly {
    readonly name: string;
    readonly site: string;
    readonly due: number;
    readonly done: number;
  }[];
  readonly inspections: readonly { readonly due: number; readonly kept: number }[];
  readonly leftOut: readonly string[];
}

async function told(...args: string[]): Promise<Told> {
  return JSON.parse((await sparespan("evidence", ...args, "--json", ...JULY)).out) as Told;
}

function sheet(snapshot: Snapshot, name: string): Sheet {
  const found = sheetNamed(snapshot, name);
  if (found === null) throw new Error(`no sheet ${name}`);
  return found;
}

function lateRows(snapshot: Snapshot): (readonly CellValue[])[] {
  const late = sheet(snapshot, "Late work");
  const rows = late.values.slice(headingRow(late) + 1);
  return rows.filter((row) => row.some((value) => value !== null));
}

function withReason(sheet: Sheet): Sheet {
  if (sheet.name !== "Late work") return sheet;
  const values = sheet.values.map((row, at) =>
    at === headingRow(sheet) + 1 ? [...row.slice(0, 8), "no spare"] : row,
  );
  return { ...sheet, values };
}

beforeAll(async () => {
  expect((await sparespan("demo", folder)).code).toBe(0);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe("sparespan evidence", () => {
  it("judges a first replacement by the date that its note keeps, and by no other note", () => {
    const report = (note: string): EvidenceReport => {
      const jobs = [jobOf("A1", "SET", "2026-06-10", { note })];
      const { snapshot, reading } = programme([{ id: "A1", set: "2026-06-10" }], { jobs });
      return evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
    };
    const kept = report("worn; done before on 2026-02-20");
    expect(kept.onTime).toMatchObject({
      turns: [{ began: day("2026-02-20"), due: day("2026-05-20"), daysLate: 21 }],
      unjudged: 0,
    });
    for (const wrong of ["", "done before on 2026-02-30", "done before on 2026-06-10"]) {
      expect(report(wrong).onTime).toMatchObject({ turns: [], unjudged: 1 });
    }
  });

  it("counts in the demonstration what its Job log holds, cell by cell", async () => {
    const { snapshot } = openWorkbook(readFileSync(CLEAN));
    const register = sheet(snapshot, "Equipment").values.slice(3);
    const sites = new Map(register.map((row) => [row[0], row[1]]));
    const days = new Map<string, Set<number>>();
    for (const [date, device, part, job] of sheet(snapshot, "Job log").values.slice(3)) {
      const serial = Number(date);
      if (job !== "inspected" || serial < day("2026-04-06") || serial > day("2026-07-05")) continue;
      const week = Math.floor((serial - day("2026-04-06")) / 7);
      const key = JSON.stringify([sites.get(device ?? null), device, part, week]);
      days.set(key, (days.get(key) ?? new Set()).add(serial));
    }
    const kept = new Map<unknown, number>();
    for (const [key, dates] of days) {
      const [site] = JSON.parse(key) as string[];
      kept.set(site, (kept.get(site) ?? 0) + Math.min(2, dates.size));
    }
    const { measures } = await told(CLEAN);
    const inspections = measures.filter(({ name }) => name === "Inspections kept");
    for (const { site, done } of inspections.filter((one) => one.site !== "All")) {
      expect([site, done]).toEqual([site, kept.get(site)]);
    }
    // 34 devices in service, two parts, twice a week, 13 weeks.
    expect(inspections.find(({ site }) => site === "All")?.due).toBe(34 * 2 * 2 * 13);
  });

  it("agrees with today on what is overdue", async () => {
    const evidence = await sparespan("evidence", CLEAN, "--json", ...JULY);
    const { replacements } = JSON.parse(evidence.out) as {
      replacements: Record<string, unknown>[];
    };
    const today = JSON.parse((await sparespan("today", CLEAN, "--json", ...JULY)).out) as {
      items: Record<string, unknown>[];
    };
    const line = ({ device, due }: Record<string, unknown>): string =>
      JSON.stringify([device, due]);
    const overdue = today.items.filter(({ state }) => state === "Overdue").map(line);
    const undone = replacements.filter(({ done }) => done === null).map(line);
    expect(undone.sort()).toEqual(overdue.sort());
    expect(overdue.length).toBeGreaterThan(0);
  });

  it("writes its sheets with a chart, and the same twice", async () => {
    const out = at("evidence.xlsx");
    const { code, err } = await sparespan("evidence", CLEAN, "-o", out, ...JULY);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    const { snapshot } = openWorkbook(readFileSync(out));
    for (const name of SHEETS) {
      const notes = [1, 2, 3, 4].map((row) => valueAt(sheet(snapshot, name), row, 0));
      const lines = notes.filter((note) => typeof note === "string").join(" ");
      expect(lines).toMatch(/As of 2026-07-06\..*Planning aid/);
    }
    expect((await sparespan("evidence", out, "-n", ...JULY)).out).toContain("nothing to change");
    expect((await sparespan("check", out, ...JULY)).code).toBe(0);
  });

  it("puts what has gaps first", async () => {
    const { measures } = await told(CLEAN, "--from", "2026-06-22");
    const sites = measures.filter(({ site }) => site !== "All");
    expect(
      measures.slice(0, measures.length - sites.length).every(({ site }) => site === "All"),
    ).toBe(true);
    const gaps = sites.map(({ due, done }) => Number(done < due));
    expect(gaps).toEqual([...gaps].sort((one, other) => other - one));
    // S03 missed nothing in these weeks, and stands after S04, which did.
    const order = sites.filter(({ name }) => name === "Inspections kept").map(({ site }) => site);
    expect(order).not.toEqual([...order].sort());
  });

  it("works on the untidy book, and the same twice", async () => {
    const out = at("untidy.xlsx");
    expect((await sparespan("evidence", UNTIDY, "-o", out, ...JULY)).code).toBe(1);
    expect((await sparespan("evidence", out, "-n", ...JULY)).out).toContain("nothing to change");
    expect((await told(UNTIDY)).leftOut).toContain(
      "2 rows of the Job log without a known day, device or part",
    );
  });

  it.each([1900, 1904] as const)(
    "writes the dates of a %i workbook as it counts them, and keeps rows with a reason",
    (dateSystem) => {
      const { snapshot, reading } = programme([{ id: "A1", set: "2026-03-10" }]);
      const report = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
      const written = (before: Snapshot, told: EvidenceReport): Snapshot =>
        onPaper(before, { summary: "", edits: resultEdits(before, lateSheet(told, before)) });
      const made = written({ ...snapshot, dateSystem }, report);
      const shift = dateSystem === 1904 ? 1462 : 0;
      expect(lateRows(made)).toMatchObject([{ 3: day("2026-03-10") - shift, 6: 20 }]);
      expect(resultEdits(made, lateSheet(report, made))).toEqual([]);
      const none: EvidenceReport = { ...report, onTime: { ...report.onTime, turns: [] } };
      expect(lateRows(written(made, none))).toEqual([]);
      const typed = { ...made, sheets: made.sheets.map(withReason) };
      const after = written(typed, none);
      expect(lateRows(after)).toEqual(lateRows(typed));
      expect(lateRows(written(after, report))).toEqual(lateRows(typed));
    },
  );

  it("takes days and sites, and refuses others", async () => {
    const june = await told(CLEAN, "--from", "2026-06-01", "--to", "2026-06-30", "--site", "S08");
    expect(june.inspections).toHaveLength(4);
    expect(june.inspections.every(({ due }) => due === 4)).toBe(true);
    const said = async (...args: string[]): Promise<string> =>
      (await sparespan("evidence", CLEAN, ...args, ...JULY)).err;
    expect(await said("--from", "June")).toBe(
      'sparespan: --from must be a date as yyyy-mm-dd, got "June"\n',
    );
    expect(await said("--to", "2026-07-07")).toContain("on or before the report date 2026-07-06");
    expect(await said("--site", "S09")).toContain("(S01, S02, S03, S04, S05, S06, S07 and S08)");
  });

  it("says that weeks before the Job log begins count as missed", async () => {
    const { out } = await sparespan("evidence", CLEAN, "--from", "2026-03-02", ...JULY);
    expect(out).toContain("weeks before count as missed.");
  });
});
