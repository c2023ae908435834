import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { demoBook, DEMO_SEED } from "../../../src/book/demo/workbook.ts";
import type { Edit } from "../../../src/book/workbook/plan.ts";
import {
  cellKey,
  type CellValue,
  type Sheet,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { NODE_CODEC } from "../../../src/cli/files.ts";
import { day } from "../../../src/core/day.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { sheetAt, sparespan, type Said } from "../../cli/session.ts";
import { protectedFirst } from "../../scenes/stranger-parts.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-log-"));
const at = (name: string): string => join(folder, name);
const BOOK = at("velloran-20260706-clean.xlsx");
const DAY = ["--report-date", "2026-07-06"];
/** A complete set of VR-101, whose set was replaced on 2026-03-06 and is due. */
const SET = [
  "--device",
  "VR-101",
  "--part",
  "SET",
  "--job",
  "replaced",
  "--complete",
  "--by",
  "LS1",
];

beforeAll(async () => {
  expect((await sparespan("demo", folder)).code).toBe(0);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** The demonstration after some edits of cells, as somebody might have made them. */
function changed(name: string, ...edits: readonly Edit[]): string {
  const path = at(name);
  const open = openWorkbook(readFileSync(BOOK), { codec: NODE_CODEC });
  writeFileSync(path, applyPlan(open, { summary: "typed", edits }));
  return path;
}

function typed(
  sheet: string,
  [row, column]: readonly [number, number],
  value: CellValue,
  formula?: string,
): Edit {
  const text = formula === undefined ? {} : { formula: { text: formula, live: false } };
  return {
    kind: "fillCells",
    sheet,
    blocks: [{ column, rows: [row], values: [value], ...text }],
    expects: {},
  };
}

interface Logged extends Said {
  readonly path: string;
}

async function log(book: string, name: string, ...options: string[]): Promise<Logged> {
  const path = at(name);
  return { ...(await sparespan("log", book, "-o", path, ...options, ...DAY)), path };
}

/** The last row of the Job log, from Date to Note. */
function lastJob(path: string): CellValue[] {
  const log = sheetAt(path, "Job log");
  const rows = log.values.filter(([date]) => typeof date === "number");
  return Array.from({ length: 9 }, (_, column) => rows.at(-1)?.[column] ?? null);
}

const setOf = (path: string): CellValue => valueAt(sheetAt(path, "Equipment"), 3, 7);
/** On hand of the first row of the Shelf: sets at S01. */
const onHand = (path: string, row = 3): CellValue => valueAt(sheetAt(path, "Shelf"), row, 2);
const shelfLength = (sheet: Sheet): number =>
  sheet.values.filter(([part]) => part === "SET").length;

describe("sparespan log", () => {
  it.each(["cancelled", "old one put back", "on 3 July", "left lead only"])(
    "writes no replacement that its note takes back: %s",
    async (note) => {
      const { code, err, path } = await log(BOOK, "back.xlsx", ...SET, "--note", note);
      expect([code, existsSync(path)]).toEqual([2, false]);
      expect(err).toContain(`"${note}" may say`);
    },
  );

  it("writes no row of which a part would be lost", async () => {
    const book = changed("heading.xlsx", typed("Job log", [2, 1], "Unit"));
    const { code, err, path } = await log(book, "lost.xlsx", ...SET);
    expect([code, existsSync(path)]).toEqual([2, false]);
    expect(err).toContain("No column of Job log has the heading Device");
  });

  it("appends the job, moves the register's date, takes one from the shelf, says the new due date", async () => {
    const { code, out, path } = await log(
      BOOK,
      "one.xlsx",
      ...SET,
      "--lot",
      "L2455",
      "--note",
      "worn",
    );
    expect(code).toBe(0);
    expect(out).toContain("replaced Electrode set of VR-101 on 2026-07-06");
    expect(out).toContain("Electrode set on the shelf at S01: 0 left.");
    expect(out).toMatch(/Electrode set of VR-101: next due 20\d\d-\d\d-\d\d, ○ Not due\./);
    expect(lastJob(path)).toEqual([
      ...[day("2026-07-06"), "VR-101", "SET", "replaced", null, "yes", "L2455", "LS1", "worn"],
    ]);
    expect([setOf(path), onHand(path)]).toEqual([day("2026-07-06"), 0]);
    const jobs = sheetAt(path, "Job log");
    const [table] = jobs.tables;
    const filled = jobs.values.flatMap(([date], row) => (typeof date === "number" ? [row] : []));
    expect(table?.area.lastRow).toBe(filled.at(-1));
  });

  it("refuses the same entry a second time unless told that it was done again", async () => {
    const { path } = await log(BOOK, "once.xlsx", ...SET);
    const again = await log(path, "twice.xlsx", ...SET);
    expect([again.code, again.out]).toEqual([2, ""]);
    expect(again.err).toContain(
      "replaced Electrode set of VR-101 on 2026-07-06 is already in the Job log; confirm it (--again)",
    );
    expect((await log(path, "thrice.xlsx", ...SET, "--again")).code).toBe(0);
  });

  it("says the date it replaces and how late it was, and keeps it where the log has none", async () => {
    const known = await log(BOOK, "known.xlsx", ...SET);
    expect(known.out).toContain("\nDone before on 2026-03-06.\n");
    expect(lastJob(known.path)[8]).toBeNull();
    const rows = sheetAt(BOOK, "Job log").values.flatMap(([, device, part, job], row) =>
      device === "VR-101" && part === "SET" && job === "replaced" ? [row] : [],
    );
    expect(rows.length).toBeGreaterThan(0);
    const book = changed("young.xlsx", ...rows.map((row) => typed("Job log", [row, 1], "VR-102")));
    const { out, path } = await log(book, "kept.xlsx", ...SET, "--note", "worn");
    expect(out).toContain("Done before on 2026-03-06");
    expect(lastJob(path)[8]).toBe("worn; done before on 2026-03-06");
    // Its cushion was due on 2026-06-19.
    const cushion = ["--device", "VR-105", "--part", "CUSHION", "--job", "replaced", "--complete"];
    const late = await log(BOOK, "overdue.xlsx", ...cushion, "--by", "LS1");
    expect(late.out).toMatch(
      /\nDone before on 20\d\d-\d\d-\d\d; done 17 days after its due date\.\n/,
    );
  });

  it("refuses a job on a retired device unless it was done all the same, but not its withdrawal", async () => {
    const status = sheetAt(BOOK, "Equipment").values[2]?.indexOf("Status") ?? -1;
    const gone = changed("gone.xlsx", typed("Equipment", [3, status], "Retired"));
    const refused = await log(gone, "not.xlsx", ...SET);
    expect([refused.code, existsSync(refused.path)]).toEqual([2, false]);
    expect(refused.err).toContain("VR-101 is retired in the register; confirm it (--again)");
    expect(existsSync((await log(gone, "all-the-same.xlsx", ...SET, "--again")).path)).toBe(true);
    const away = SET.flatMap((word) =>
      word === "--complete" ? [] : [word === "replaced" ? "withdrawn" : word],
    );
    expect(existsSync((await log(gone, "away.xlsx", ...away)).path)).toBe(true);
  });

  it("asks which row is meant where the device stands in several", async () => {
    const device = sheetAt(BOOK, "Equipment").values[2]?.indexOf("Device") ?? -1;
    const twice = changed("twice.xlsx", typed("Equipment", [9, device], "vr-101 "));
    const refused = await log(twice, "which.xlsx", ...SET);
    expect([refused.code, existsSync(refused.path)]).toEqual([2, false]);
    expect(refused.err).toContain(
      "VR-101 stands in rows 4 and 10 of Equipment; say which: --row 4, or select the row",
    );
    const other = await log(twice, "other.xlsx", ...SET, "--row", "5");
    expect(other.err).toContain("row 5 of Equipment is not VR-101");
    const lower = await log(twice, "lower.xlsx", ...SET, "--row", "10");
    expect(lower.out).toContain("no due date, ? Check row (Date in doubt)");
    const column = sheetAt(BOOK, "Equipment").values[2]?.indexOf("Electrode set replaced") ?? -1;
    const dates = sheetAt(lower.path, "Equipment").values;
    expect(dates[9]?.[column]).toBe(day("2026-07-06"));
    expect(dates[3]?.[column]).toBe(day("2026-03-06"));
  });

  it("does not write into a protected register unless told to", async () => {
    writeFileSync(at("shut.xlsx"), protectedFirst(readFileSync(BOOK)));
    const refused = await log(at("shut.xlsx"), "no.xlsx", ...SET);
    expect([refused.code, refused.out]).toEqual([2, ""]);
    expect(refused.err).toBe(
      "sparespan: Equipment is protected; unprotect it first, or give --force\n",
    );
    expect(existsSync(refused.path)).toBe(false);
    const forced = await log(at("shut.xlsx"), "forced.xlsx", ...SET, "--force");
    expect([forced.code, setOf(forced.path)]).toEqual([0, day("2026-07-06")]);
  });

  it("logs a partial set, and neither moves the date nor takes from the shelf", async () => {
    const partial = SET.filter((word) => word !== "--complete");
    const { out, path } = await log(BOOK, "partial.xlsx", ...partial);
    expect(out).toContain(
      "Not a complete set: it is logged, and the interval still runs from the earlier date.",
    );
    expect(lastJob(path)[5]).toBe("no");
    expect([setOf(path), onHand(path)]).toEqual([day("2026-03-06"), onHand(BOOK)]);
  });

  it("logs a dated task, whose date moves and which takes nothing from the shelf", async () => {
    const task = [
      "--device",
      "vr-101",
      "--part",
      "Calibration",
      "--job",
      "Calibrated",
      "--by",
      "BE",
    ];
    const { code, out, path } = await log(BOOK, "task.xlsx", ...task);
    expect([code, out.includes("shelf")]).toEqual([0, false]);
    expect(valueAt(sheetAt(path, "Equipment"), 3, 9)).toBe(day("2026-07-06"));
    expect(lastJob(path).slice(1, 6)).toEqual(["VR-101", "CALIBRATION", "calibrated", null, null]);
  });

  it("ends a part's life by a finding, until the complete part is replaced", async () => {
    const crack = [
      "--device",
      "VR-107",
      "--part",
      "SET",
      "--job",
      "inspected",
      "--finding",
      "crack",
    ];
    const found = await log(BOOK, "crack.xlsx", ...crack, "--date", "2026-07-03", "--by", "LS2");
    expect(found.out).toContain("The part's life has ended: out of use now");
    expect(found.out).toMatch(/Electrode set of VR-107: .*▲ Overdue/);
    const set = SET.map((word) => (word === "VR-101" ? "VR-107" : word));
    const done = await log(found.path, "mended.xlsx", ...set);
    expect(done.out).toMatch(/Electrode set of VR-107: .*○ Not due/);
  });

  it("moves the register's date forward only", async () => {
    const { out, path } = await log(BOOK, "late.xlsx", ...SET, "--date", "2026-02-01");
    expect(out).toContain(
      'Equipment, "Electrode set replaced" holds a later date; it was left as it is.',
    );
    expect(setOf(path)).toBe(day("2026-03-06"));
    expect(lastJob(path)[0]).toBe(day("2026-02-01"));
  });

  it("leaves a formula in the register's date, and one on the shelf, as they are", async () => {
    const book = changed(
      "formula.xlsx",
      typed("Equipment", [3, 7], day("2026-03-06"), "DATE(2026,3,6)"),
      typed("Shelf", [3, 2], 1, "1"),
    );
    const { out, path } = await log(book, "formulas.xlsx", ...SET);
    expect(out).toContain(
      'Equipment, "Electrode set replaced" holds a formula; it was left as it is.',
    );
    expect(out).toContain("On hand of Electrode set at S01 is a formula; it was left as it is.");
    expect(sheetAt(path, "Equipment").formulas.has(cellKey(3, 7))).toBe(true);
    expect(sheetAt(path, "Shelf").formulas.has(cellKey(3, 2))).toBe(true);
  });

  it("takes the lot that was fitted, else what expires first and has not, at the site before the store", async () => {
    const end = shelfLength(sheetAt(BOOK, "Shelf")) * 2 + 3;
    const row = (at: number, site: string | null, lot: string, expiry: string): Edit[] =>
      ["SET", site, 4, null, null, null, lot, day(expiry)].flatMap((value, column) =>
        value === null ? [] : [typed("Shelf", [end + at, column], value)],
      );
    const book = changed(
      "lots.xlsx",
      ...row(0, "S01", "OLD", "2026-06-01"),
      ...row(1, "S01", "SOON", "2026-12-01"),
      ...row(2, null, "STORE", "2026-08-01"),
    );
    const left = (path: string): CellValue[] =>
      [3, end, end + 1, end + 2].map((at) => onHand(path, at));
    const before = onHand(BOOK);
    const first = await log(book, "first.xlsx", ...SET);
    expect(left(first.path)).toEqual([before, 4, 3, 4]);
    const named = await log(book, "named.xlsx", ...SET, "--lot", "old");
    expect(left(named.path)).toEqual([before, 3, 4, 4]);
    expect(named.out).toContain("The stock taken from there has expired; count what can be used.");
    const other = await log(book, "other.xlsx", ...SET, "--lot", "L9");
    expect(left(other.path)).toEqual([before, 4, 3, 4]);
    expect(other.out).toContain("The Shelf has lot SOON there, not L9; count it.");
  });

  it("takes nothing from a shelf that was counted after the job", async () => {
    const book = changed("since.xlsx", typed("Shelf", [3, 3], day("2026-07-06")));
    const before = onHand(book);
    const early = await log(book, "early.xlsx", ...SET, "--date", "2026-07-03");
    expect(onHand(early.path)).toBe(before);
    expect(early.out).toContain("was counted on 2026-07-06, after the job; it was left as it is.");
  });

  it("takes from the programme's store where the site has none, and says where nobody has any", async () => {
    const sixth = SET.map((word) =>
      word === "VR-101" ? "VR-129" : word === "SET" ? "CUSHION" : word,
    );
    const none = await log(BOOK, "none.xlsx", ...sixth);
    expect(none.out).toContain("The Shelf shows no Ear cushion at S06; count it.");
    const end = shelfLength(sheetAt(BOOK, "Shelf")) * 2 + 3;
    const store = changed(
      "store.xlsx",
      typed("Shelf", [end, 0], "CUSHION"),
      typed("Shelf", [end, 2], 2),
    );
    const some = await log(store, "some.xlsx", ...sixth);
    expect(some.out).toContain("Ear cushion on the shelf at the programme's store: 1 left.");
    expect(onHand(some.path, end)).toBe(1);
  });

  it.each([
    ["an unknown device", ["--device", "VR-999"], '"VR-999" is not in the register'],
    [
      "an unknown part",
      ["--part", "HOSE"],
      'the part must be SET, CUSHION, CALIBRATION; got "HOSE"',
    ],
    [
      "an unknown job",
      ["--job", "mended"],
      "the job must be inspected, replaced, calibrated, withdrawn, returned",
    ],
    [
      "an unknown finding",
      ["--finding", "dull"],
      "the finding must be clean, residue, corrosion, crack, hardened, other",
    ],
    [
      "a task that is replaced",
      ["--part", "CALIBRATION"],
      "Calibration is a dated task: it is calibrated, not replaced",
    ],
    ["a date to come", ["--date", "2026-07-07"], "the date 2026-07-07 is after the report date"],
    ["a date that is none", ["--date", "2026-02-30"], "date"],
    ["nobody's work", ["--by", " "], "state who did it, by role or initials"],
    [
      "an address",
      ["--note", "ask a.b@example.org"],
      "what was typed looks like e-mail addresses; only roles and initials belong here",
    ],
  ])("refuses %s, and writes nothing", async (_, options, said) => {
    const [name] = options;
    const kept = SET.filter((word, index) => word !== name && SET[index - 1] !== name);
    const { code, out, err, path } = await log(BOOK, "never.xlsx", ...kept, ...options);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(said);
    expect(() => readFileSync(path)).toThrow("ENOENT");
  });

  it("tells everything wrong with an entry at once", async () => {
    const { err } = await log(BOOK, "never.xlsx", "--device", "X", "--part", "Y", "--job", "z");
    for (const said of ['"X" is not', "the part must be", "the job must be", "state who did it"]) {
      expect(err).toContain(said);
    }
  });

  it.each([["--device"], ["--part"], ["--job"]])(
    "asks for %s where it is missing",
    async (option) => {
      const kept = SET.filter((word, index) => word !== option && SET[index - 1] !== option);
      const { code, err } = await log(BOOK, "never.xlsx", ...kept);
      expect([code, err]).toEqual([2, expect.stringContaining(`${option} is needed`) as string]);
    },
  );

  it("makes our sheets first in a book that has no Job log", async () => {
    const path = at("bare.xlsx");
    const cell = (row: number, column: number, value: CellValue) => ({ row, column, value });
    const cells = [
      ...["Device", "Site", "Electrode set replaced"].map((text, column) => cell(0, column, text)),
      ...["N-1", "S01"].map((text, column) => cell(1, column, text)),
      { ...cell(1, 2, day("2026-01-05")), format: "yyyy-mm-dd" },
      ...["N-2", "S01"].map((text, column) => cell(2, column, text)),
      { ...cell(2, 2, day("2026-05-05")), format: "yyyy-mm-dd" },
    ];
    const sheet: Edit = { kind: "addSheet", sheet: "Equipment", cells, widths: [], freezeRows: 1 };
    writeFileSync(path, newWorkbook({ summary: "bare", edits: [sheet] }, { codec: NODE_CODEC }));
    const made = await log(
      path,
      "logged.xlsx",
      ...SET.map((word) => (word === "VR-101" ? "N-1" : word)),
    );
    expect(lastJob(made.path).slice(1, 4)).toEqual(["N-1", "SET", "replaced"]);
    expect(valueAt(sheetAt(made.path, "Equipment"), 1, 2)).toBe(day("2026-07-06"));
    expect(made.out).toContain("The Shelf shows no Electrode set at S01; count it.");
  });

  it("counts days as the book does, also from 1904", async () => {
    const { plan } = demoBook(DEMO_SEED, false);
    const moved = JSON.parse(
      JSON.stringify(plan, (_, value: unknown) =>
        typeof value === "number" && value > 40_000 && value < 60_000 ? value - 1462 : value,
      ),
    ) as typeof plan;
    const path = at("1904.xlsx");
    writeFileSync(path, newWorkbook(moved, { codec: NODE_CODEC, dateSystem: 1904 }));
    const there = await log(path, "1904-logged.xlsx", ...SET);
    const here = await log(BOOK, "1900-logged.xlsx", ...SET);
    expect(there.out.replace("1904-logged", "1900-logged")).toBe(here.out);
    expect([lastJob(there.path)[0], setOf(there.path)]).toEqual(
      [lastJob(here.path)[0], setOf(here.path)].map((date) => Number(date) - 1462),
    );
  });

  it.each(["portable", "live", "values"])("brings %s columns up to date", async (mode) => {
    const book = at(`${mode}.xlsx`);
    await sparespan("columns", BOOK, "-o", book, "--as", mode, ...DAY);
    const { out, path } = await log(book, `${mode}-logged.xlsx`, ...SET);
    const sheet = sheetAt(path, "Equipment");
    const headings = sheet.values[2] ?? [];
    const column = (title: string): number => headings.indexOf(`Electrode set: ${title}`);
    const due = /next due (\d{4}-\d\d-\d\d)/.exec(out)?.[1] ?? "";
    expect(valueAt(sheet, 3, column("next due"))).toBe(day(due));
    expect(valueAt(sheet, 3, column("state"))).toContain("Not due");
    const again = await sparespan("columns", path, "-n", "--as", mode, ...DAY);
    expect(again.out).toBe("nothing to change\n");
  });

  it("says the plan and writes nothing with --dry-run", async () => {
    const told = await sparespan("log", BOOK, "--dry-run", ...SET, ...DAY);
    expect(told.code).toBe(0);
    expect(told.out).toContain("Job log");
    expect(setOf(BOOK)).toBe(day("2026-03-06"));
  });
});
