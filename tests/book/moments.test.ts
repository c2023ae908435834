import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ColumnCells, Edit } from "../../src/book/workbook/plan.ts";
import { type CellValue, type Sheet, valueAt } from "../../src/book/workbook/snapshot.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { type Day, day } from "../../src/core/day.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { partsOf, sheetAt, sparespan } from "../cli/session.ts";

/** The twelve moments of a year: the mishap played on a real file, and what is promised then. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-moments-"));
const at = (name: string): string => join(folder, name);
const [CLEAN, UNTIDY] = [at("velloran-20260706-clean.xlsx"), at("velloran-20260706-untidy.xlsx")];
const DAY = ["--report-date", "2026-07-06"];
const HEADINGS = 2;

beforeAll(async () => {
  await sparespan("demo", folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A book somebody else changed meanwhile. */
function changed(from: string, to: string, edits: readonly Edit[]): string {
  const open = openWorkbook(readFileSync(from), { codec: NODE_CODEC });
  writeFileSync(at(to), applyPlan(open, { summary: "by hand", edits }));
  return at(to);
}

function fill(sheet: string, ...blocks: ColumnCells[]): Edit {
  return { kind: "fillCells", sheet, blocks, expects: {} };
}

function columnOf(sheet: Sheet, heading: string, row = HEADINGS): number {
  const found = (sheet.values[row] ?? []).indexOf(heading);
  if (found < 0) throw new Error(`no heading ${heading}`);
  return found;
}

async function json<T>(...args: string[]): Promise<T> {
  return JSON.parse((await sparespan(...args, "--json", ...DAY)).out) as T;
}

interface Ahead {
  readonly countsMissing: readonly string[];
  readonly parts: readonly {
    readonly part: string;
    readonly units: number;
    readonly total: { readonly expected: number };
  }[];
}

describe("the moments of a year", () => {
  it("January, last year's sheet: read as it stands, with what cannot be trusted", async () => {
    const { code, out, err } = await sparespan("today", UNTIDY, ...DAY);
    expect(code).toBe(1);
    expect(out).toMatch(/^Report date 2026-07-06: \d+ devices;/);
    expect(out).toContain("? Check row");
    expect(err).toMatch(/\d+ faults in the rows/);
  });

  it("adding computed columns: a column of notes at the edge is not written over, cells are named before", async () => {
    const sheet = sheetAt(CLEAN, "Equipment");
    const edge = Math.max(...sheet.values.map((row) => row.length));
    const notes = { column: edge, rows: [HEADINGS, 7], values: ["My notes", "ask the engineer"] };
    const book = changed(CLEAN, "notes.xlsx", [fill("Equipment", notes)]);
    const shown = await sparespan("columns", book, "-n", ...DAY);
    expect(shown.out).toMatch(/15 columns for 35 rows, Equipment!N3:AB38/);
    await sparespan("columns", book, "-o", at("noted.xlsx"), ...DAY);
    const after = sheetAt(at("noted.xlsx"), "Equipment");
    expect([valueAt(after, HEADINGS, edge), valueAt(after, 7, edge)]).toEqual(notes.values);
    const again = await sparespan("columns", at("noted.xlsx"), "-n", ...DAY);
    expect(again.out).toContain("nothing to change");
  });

  it("a new site: its name spelled two ways is told, its estimate stands until counts exist", async () => {
    const sheet = sheetAt(CLEAN, "Equipment");
    const row = sheet.values.length;
    const cells = (heading: string, value: CellValue): ColumnCells => ({
      column: columnOf(sheet, heading),
      rows: [row],
      values: [value],
    });
    const sites = sheetAt(CLEAN, "Sites");
    const site = { rows: [sites.values.length] };
    const book = changed(CLEAN, "site.xlsx", [
      fill(
        "Equipment",
        cells("Device", "VR-300"),
        cells("Site", "S09"),
        cells("Electrode set replaced", day("2026-07-01")),
        cells("Ear cushion replaced", day("2026-07-01")),
      ),
      fill(
        "Sites",
        { column: 0, ...site, values: ["S09"] },
        { column: columnOf(sites, "Expected uses (a device a month)"), ...site, values: [45] },
      ),
    ]);
    const year = await json<{ estimated: string[] }>("ahead", book);
    expect(year.estimated).toEqual(["VR-300"]);
    const odd = changed(book, "odd.xlsx", [
      fill("Equipment", { column: 1, rows: [row], values: ["S 09"] }),
    ]);
    const told = await sparespan("check", odd, ...DAY);
    expect(told.out).toContain('"S 09" is not on the Sites sheet');
  });

  it("counts come late: a blank is no zero, the month is named, a later figure replaces", async () => {
    const sheet = sheetAt(CLEAN, "Monthly sessions");
    const last = (sheet.values[HEADINGS]?.length ?? 0) - 1;
    const late = changed(CLEAN, "late.xlsx", [
      fill("Monthly sessions", { column: last, rows: [3, 4], values: [null, null] }),
    ]);
    const [whole, gap] = [await json<Ahead>("ahead", CLEAN), await json<Ahead>("ahead", late)];
    expect(whole.countsMissing).toEqual([]);
    expect(gap.countsMissing).toEqual(["2026-06-01"]);
    const sets = (year: Ahead): number => year.parts[0]?.total.expected ?? 0;
    // Two devices without their latest month: not two devices nobody uses any more.
    expect(sets(gap)).toBeGreaterThan(sets(whole) * 0.97);
  });

  it("damage found: logged in one command, the anchor moves, one leaves the shelf, the new date is said", async () => {
    await sparespan("columns", CLEAN, "-o", at("kept.xlsx"), ...DAY);
    const found = await sparespan(
      "log",
      at("kept.xlsx"),
      "--device",
      "VR-104",
      "--part",
      "SET",
      "--job",
      "inspected",
      "--finding",
      "crack",
      "--by",
      "LS1",
      "-o",
      at("found.xlsx"),
      ...DAY,
    );
    expect(found.out).toContain("▲ Overdue");
    expect(found.out).toContain("out of use now");
    const done = await sparespan(
      "log",
      at("found.xlsx"),
      "--device",
      "VR-104",
      "--part",
      "SET",
      "--job",
      "replaced",
      "--complete",
      "--lot",
      "L9",
      "--by",
      "LS1",
      "-o",
      at("done.xlsx"),
      ...DAY,
    );
    expect(done.out).toMatch(/Electrode set on the shelf at S01: \d+ left/);
    expect(done.out).toMatch(/next due 20\d\d-\d\d-\d\d, ○ Not due/);
    const sheet = sheetAt(at("done.xlsx"), "Equipment");
    const row = sheet.values.findIndex((cells) => cells[0] === "VR-104");
    expect(valueAt(sheet, row, columnOf(sheet, "Electrode set replaced"))).toBe(day("2026-07-06"));
    expect(valueAt(sheet, row, columnOf(sheet, "Electrode set: state"))).toBe("Not due");
  });

  it("a lot is recalled: devices and spares that have it, and those nobody knows of", async () => {
    const log = sheetAt(CLEAN, "Job log");
    const lot = columnOf(log, "Lot");
    const rows = log.values.flatMap((cells, row) =>
      cells[0] !== null && cells[1] === "VR-101" && cells[2] === "SET" && cells[3] === "replaced"
        ? [row]
        : [],
    );
    const book = changed(CLEAN, "lots.xlsx", [
      fill("Job log", { column: lot, rows: [rows.at(-1) ?? 0], values: [null] }),
    ]);
    const onShelf = sheetAt(book, "Shelf").values[3]?.[6] ?? null;
    const recalled = typeof onShelf === "string" ? onShelf : "";
    expect(recalled).not.toBe("");
    const { out } = await sparespan("lot", book, recalled, ...DAY);
    expect(out).toContain(recalled);
    expect(out).toMatch(/shelf/i);
    expect(out).toMatch(/VR-101/);
    expect(out).toContain("not judged");
  });

  it("purchasing wants an order: whole packs, zeros kept, what is on its way not ordered twice", async () => {
    await sparespan("share", "order", CLEAN, "-o", at("order.xlsx"), ...DAY);
    const order = sheetAt(at("order.xlsx"), "Order");
    const cells = order.values.flat();
    expect(cells).toContain("004711");
    expect([...order.formulas]).toEqual([]);
    interface Line {
      part: string;
      site: string;
      units: number;
      packs: number;
    }
    const { now } = await json<{ now: Line[] }>("order", CLEAN);
    for (const { part, units, packs } of now)
      expect(units).toBe(packs * (part === "CUSHION" ? 5 : 1));
    const shelf = sheetAt(CLEAN, "Shelf");
    const rows = shelf.values.flatMap((row, index) =>
      index > HEADINGS && row[0] === "SET" ? [index] : [],
    );
    const coming = { column: columnOf(shelf, "On order"), rows, values: rows.map(() => 30) };
    const expected = { column: columnOf(shelf, "Expected on"), rows, values: rows.map(() => 0) };
    const nothing = { ...coming, values: rows.map(() => null) };
    const setsIn = async (name: string, ...edits: readonly Edit[]): Promise<Line[]> => {
      const { now: again } = await json<{ now: Line[] }>("order", changed(CLEAN, name, edits));
      return again.filter(({ part }) => part === "SET");
    };
    const setsOn = (date: Day): Promise<Line[]> => {
      const when = { ...expected, values: rows.map(() => date) };
      return setsIn(`coming-${date}.xlsx`, fill("Shelf", coming), fill("Shelf", when));
    };
    expect(await setsOn(day("2026-07-20"))).toEqual([]);
    // Overdue, nobody knows whether it comes: it is ordered again until the date is confirmed.
    expect(await setsOn(day("2026-07-03"))).toEqual(
      await setsIn("none coming.xlsx", fill("Shelf", nothing)),
    );
  });

  it("budget season: an expected and an upper figure, and the way there from last year", async () => {
    interface Budget {
      expected: number;
      contingency: number;
      upper: number;
      whole: { expected: number } | null;
      bridge: { amount: number }[];
    }
    const budget = await json<Budget>("budget", CLEAN);
    expect(budget.upper).toBeCloseTo(budget.expected + budget.contingency, 2);
    expect(budget.bridge.reduce((sum, { amount }) => sum + amount, 0)).toBeCloseTo(
      // The fiscal year has begun: the bridge leads to the whole of it.
      budget.whole?.expected ?? NaN,
      2,
    );
    const more = await json<Budget>("budget", CLEAN, "--volume", "30");
    expect(more.expected).toBeGreaterThan(budget.expected);
  });

  it("a surveyor comes: gaps first, headings and report date on each page, nothing by colour alone", async () => {
    await sparespan("evidence", CLEAN, "-o", at("evidence.xlsx"), ...DAY);
    const sheet = sheetAt(at("evidence.xlsx"), "Evidence");
    const head = sheet.tables[0]?.area.firstRow ?? 0;
    const missing = columnOf(sheet, "Missing", head);
    const sites = sheet.values.slice(head + 1).filter((row) => row[1] !== "All" && row[0] !== null);
    expect(Number(sites[0]?.[missing])).toBeGreaterThan(0);
    const parts = [...partsOf(at("evidence.xlsx"))].filter(([name]) =>
      name.includes("worksheets/sheet"),
    );
    const printed = parts.filter(([, text]) => text.includes("Report date 2026-07-06"));
    expect(printed.length).toBeGreaterThanOrEqual(5);
    for (const [, text] of printed) expect(text).toMatch(/orientation="\w+" fitToWidth="1"/);
  });

  it("a device is retired: out of the forecast from then, its history stays", async () => {
    const sheet = sheetAt(CLEAN, "Equipment");
    const row = sheet.values.findIndex((cells) => cells[0] === "VR-104");
    const book = changed(CLEAN, "retired.xlsx", [
      fill(
        "Equipment",
        { column: columnOf(sheet, "Status"), rows: [row], values: ["Retired"] },
        { column: columnOf(sheet, "Retired on"), rows: [row], values: [day("2026-07-05")] },
      ),
    ]);
    const [before, after] = [await json<Ahead>("ahead", CLEAN), await json<Ahead>("ahead", book)];
    expect(after.parts[0]?.units).toBe((before.parts[0]?.units ?? 0) - 1);
    const { out } = await sparespan("lot", book, "--device", "VR-104", ...DAY);
    expect(out).toMatch(/VR-104/);
    expect(sheetAt(book, "Job log").values.some((cells) => cells[1] === "VR-104")).toBe(true);
  });

  it("a colleague sorts: every device keeps its due date, and nothing has to be written anew", async () => {
    await sparespan("columns", CLEAN, "-o", at("sorted.xlsx"), "--as", "values", ...DAY);
    const sheet = sheetAt(at("sorted.xlsx"), "Equipment");
    const rows = Array.from({ length: 35 }, (_, index) => HEADINGS + 1 + index);
    const width = sheet.values[HEADINGS]?.length ?? 0;
    const blocks = Array.from({ length: width }, (_, column): ColumnCells => ({
      column,
      rows,
      values: [...rows].reverse().map((row) => valueAt(sheet, row, column)),
    }));
    const turned = changed(at("sorted.xlsx"), "turned.xlsx", [fill("Equipment", ...blocks)]);
    const again = await sparespan("columns", turned, "--as", "values", "-n", ...DAY);
    expect(again.out).toContain("nothing to change");
  });

  it("handover: a copy that needs nothing, a Read me with the last changes, a self-test that agrees", async () => {
    await sparespan("columns", CLEAN, "-o", at("own.xlsx"), "--as", "live", ...DAY);
    await sparespan("share", "copy", at("own.xlsx"), "-o", at("copy.xlsx"), ...DAY);
    for (const [name, text] of partsOf(at("copy.xlsx"))) {
      expect(`${name} ${String(/_xldudf_|SPARE\./.test(text))}`).toBe(`${name} false`);
    }
    const readMe = sheetAt(at("copy.xlsx"), "Read me").values.flat();
    expect(
      readMe.filter((cell) => typeof cell === "string" && cell.startsWith("2026-07-06: ")).length,
    ).toBeGreaterThan(1);
    const test = sheetAt(at("copy.xlsx"), "Self-test");
    const agree = columnOf(test, "Agree", test.tables[0]?.area.firstRow ?? 0);
    const said = test.values.slice(5).map((row) => row[agree]);
    expect(new Set(said)).toEqual(new Set(["yes"]));
  });
});
