import { headingColumn, headingRow } from "../../../src/book/sheets/layout.ts";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import { roundsOf } from "../../../src/book/day/rounds.ts";
import { resultEdits } from "../../../src/book/sheets/result.ts";
import { roundSheets } from "../../../src/book/day/round-sheet.ts";
import { sheetNamed } from "../../../src/book/workbook/snapshot.ts";
import { day } from "../../../src/core/day.ts";
import { openWorkbook } from "../../../src/xlsx/index.ts";
import { checkOf, type Kit, programme } from "../../scenes/kept-scene.ts";
import { sparespan } from "../../cli/session.ts";
import { onPaper } from "../../taskpane/paper.ts";

/** The week after that of the report date, 2026-06-30. */
const MONDAY = day("2026-07-06");

function rounds(kits: readonly Kit[], more: Parameters<typeof programme>[1] = {}) {
  const { snapshot, reading } = programme(kits, more);
  return roundsOf(snapshot, reading, { monday: MONDAY, sites: [] });
}

function lines(kits: readonly Kit[], more: Parameters<typeof programme>[1] = {}): string[] {
  return rounds(kits, more).rounds.flatMap(({ site, rows }) =>
    rows.map(({ device, part, times, state, why }) =>
      [site, device, part.code, times, state, why].join("|"),
    ),
  );
}

describe("the rounds of a week", () => {
  it("hold a row a device and part, with what is due by the end of the week", () => {
    const kits = [
      { id: "A2", site: "S02", set: "2026-04-10", cushion: "2026-01-13" },
      { id: "A1", set: "2026-03-01", cushion: "2026-06-01" },
      { id: "A3", set: "2026-06-01", cushion: "2026-06-01", finding: "crack" },
      { id: "A4", set: "soon", cushion: "2026-06-01" },
    ];
    expect(lines(kits)).toEqual([
      "S01|A1|SET|2|▲ Overdue|",
      "S01|A1|CUSHION|2||",
      "S01|A3|SET|2|▲ Overdue|out of use: crack",
      "S01|A3|CUSHION|2||",
      "S01|A4|SET|2|? Check row|Date is text",
      "S01|A4|CUSHION|2||",
      "S02|A2|SET|2|◆ Due soon|",
      "S02|A2|CUSHION|2||",
    ]);
  });

  it("leave out devices that come after it or left before it", () => {
    const kits = [
      { id: "Comes", commissioned: "2026-07-12", set: "2026-06-30", cushion: "2026-06-30" },
      { id: "Late", commissioned: "2026-07-13" },
      { id: "Gone", retired: "2026-06-01" },
      { id: "Leaves", retired: "2026-07-07", set: "2026-06-30", cushion: "2026-06-30" },
      { id: "Left", retired: "2026-07-06" },
    ];
    expect(new Set(lines(kits).map((line) => line.split("|")[1]))).toEqual(
      new Set(["Comes", "Leaves"]),
    );
  });

  it("name holidays, and tasks only when they are due", () => {
    const holidays = [day("2026-07-05"), day("2026-07-09")];
    const jobs = [checkOf("A1", "CALIBRATION", day("2025-07-08"), { job: "calibrated" })];
    const kits = [{ id: "A1", set: "2026-06-01", cushion: "2026-06-01" }];
    expect(rounds(kits, { holidays }).holidays).toEqual([day("2026-07-09")]);
    expect(lines(kits, { jobs })).toContain("S01|A1|CALIBRATION|0|◆ Due soon|");
    expect(lines(kits, { jobs: jobs.map((job) => ({ ...job, date: day("2025-08-08") })) })).toEqual(
      ["S01|A1|SET|2||", "S01|A1|CUSHION|2||"],
    );
  });
});

describe("round sheets", () => {
  it("have names that any workbook takes, each its own, the same every time", () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.string({ maxLength: 60, unit: "grapheme" })), (sites) => {
        const kits = sites.map((site, at) => ({ id: `A${at}`, site }));
        const layouts = roundSheets(rounds(kits)).map(({ layout }) => layout);
        for (const { name, table } of layouts) {
          expect(name.length).toBeLessThanOrEqual(31);
          expect(name).toMatch(/^Round sheet [^[\]:*?/\\]*[^'[\]:*?/\\]$/);
          expect(table).toMatch(/^SpareRound[A-Za-z0-9_]+$/);
        }
        const names = new Set(layouts.map(({ name }) => name.toLowerCase()));
        const tables = new Set(layouts.map(({ table }) => table.toLowerCase()));
        expect([names.size, tables.size]).toEqual([layouts.length, layouts.length]);
      }),
    );
  });

  it("keep what was typed for the week, and never write over it for the next", () => {
    const { snapshot, reading } = programme([{ id: "A1" }]);
    const week = (monday: typeof MONDAY) =>
      roundSheets(roundsOf(snapshot, reading, { monday, sites: [] })).flatMap((sheet) => sheet);
    const edits = (book: typeof snapshot, monday: typeof MONDAY) =>
      week(monday).flatMap((sheet) => resultEdits(book, sheet));
    const made = onPaper(snapshot, { summary: "", edits: edits(snapshot, MONDAY) });
    expect(edits(made, MONDAY)).toEqual([]);
    const typed = {
      ...made,
      sheets: made.sheets.map((sheet) => ({
        ...sheet,
        values: sheet.values.map((row, at) =>
          sheet.name === "Round sheet S01" && at === headingRow(sheet) + 1
            ? row.map((value, column) => (column === 8 ? "=clean" : value))
            : row,
        ),
      })),
    };
    expect(edits(typed, MONDAY)).toEqual([]);
    const next = day("2026-07-13");
    expect(() => edits(typed, next)).toThrow(
      "Round sheet S01 has text typed for a row that no longer exists (2026-W28, A1, Electrode set)",
    );
    const later = onPaper(made, { summary: "", edits: edits(made, next) });
    const sheet = sheetNamed(later, "Round sheet S01");
    if (sheet === null) throw new Error("no round sheet");
    const row = sheet.values[headingRow(sheet) + 1] ?? [];
    expect([row[headingColumn(sheet, "Week") ?? -1], ...row.slice(0, 8)]).toEqual([
      ...["2026-W29", "A1", "Electrode set", "? Check row", null, "No date", 2, null, null],
    ]);
  });

  it("have room for as many inspections as any part is due", () => {
    const parts = DEFAULT_PARTS.map((part) => ({ ...part, perWeek: part.code === "SET" ? 5 : 0 }));
    const [sheet] = roundSheets(rounds([{ id: "A1" }], { parts }));
    const headings = sheet?.layout.columns.map(({ heading }) => heading) ?? [];
    for (const box of ["Clean", "Residue", "Corrosion", "Crack", "Hardened", "Other"]) {
      expect(headings.filter((heading) => heading.startsWith(box))).toHaveLength(5);
    }
    expect(sheet?.rows.every((row) => row.length === headings.length)).toBe(true);
  });
});

describe("sparespan rounds", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-rounds-"));
  const book = join(folder, "velloran-20260706-clean.xlsx");
  const july = ["--report-date", "2026-07-06"];
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it("writes a sheet for each site of the demonstration, and the same twice", async () => {
    expect((await sparespan("demo", folder)).code).toBe(0);
    const out = join(folder, "rounds.xlsx");
    const said = await sparespan("rounds", book, "-o", out, ...july);
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: "" });
    expect(said.out).toMatch(/^Rounds of 2026-W28, 2026-07-06 to 2026-07-12\./);
    const { snapshot } = openWorkbook(readFileSync(out));
    const sheets = snapshot.sheets.filter(({ name }) => name.startsWith("Round sheet "));
    expect(sheets.map(({ name }) => name)).toEqual(
      ["S01", "S02", "S03", "S04", "S05", "S06", "S07", "S08"].map((site) => `Round sheet ${site}`),
    );
    const again = await sparespan("rounds", out, "-n", ...july);
    expect(again.out).toContain("nothing to change");
    expect((await sparespan("check", out, ...july)).code).toBe(0);
  });

  it("takes sites and a week, and refuses others", async () => {
    const args = ["rounds", book, "--site", "s02", "--week", "2026-w40", "--json", ...july];
    const said = JSON.parse((await sparespan(...args)).out) as {
      week: string;
      sites: { site: string; rows: unknown[] }[];
    };
    expect([said.week, said.sites.map(({ site }) => site)]).toEqual(["2026-W40", ["S02"]]);
    expect((await sparespan("rounds", book, "--week", "2026-W54", ...july)).err).toBe(
      'sparespan: --week must be an ISO week such as 2026-W28, got "2026-W54"\n',
    );
    expect((await sparespan("rounds", book, "--site", "S99", ...july)).err).toContain(
      'the site must be one of the book\'s (S01, S02, S03, S04, S05, S06, S07 and S08), got "S99"',
    );
  });
});
