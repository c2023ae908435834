import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import type { Edit } from "../../../src/book/workbook/plan.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";
import { headingColumn, headingRow } from "../../../src/book/sheets/layout.ts";
import { day } from "../../../src/core/day.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { sheetAt, sparespan } from "../../cli/session.ts";
import { typedBook } from "../../scenes/own-log-book.ts";

/** A week's jobs at once: from a file, and from round sheets somebody typed into. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-log-many-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const at = (name: string): string => join(folder, name);
const DAY = ["--report-date", "2026-07-12"];

let made = 0;
/** A programme of two devices, with its sheets. */
async function programme(): Promise<string> {
  const path = at(`kit ${(made += 1)}.xlsx`);
  const kit = [
    ["Device", "Site", "Electrodes changed", "Ear cushion replaced"],
    ["HS-1", "North", "2026-03-02", "2026-03-02"],
    ["HS-2", "South", "2026-05-02", "2026-05-02"],
  ] as const;
  writeFileSync(path, typedBook({ Kit: kit }));
  const { code } = await sparespan("columns", path, "--in-place", ...DAY);
  expect(code).toBe(0);
  return path;
}

const HEADINGS = "date,device,part,job,finding,complete,lot,by,note";
function fileOf(name: string, ...lines: readonly string[]): string {
  writeFileSync(at(name), lines.join("\n"));
  return at(name);
}

/** The rows of the Job log: device, part, job, finding, complete, lot. */
function logged(path: string): CellValue[][] {
  const log = sheetAt(path, "Job log");
  const columns = ["Date", "Device", "Part", "Job", "Finding", "Complete set", "Lot"].map(
    (heading) => headingColumn(log, heading) ?? -1,
  );
  return log.values
    .slice(headingRow(log) + 1)
    .filter((row) => row[columns[1] ?? 0] !== null && row.length > 0)
    .map((row) => columns.map((column) => row[column] ?? null));
}

describe("log --from", () => {
  it("logs every line, the oldest first, and each once", async () => {
    const path = await programme();
    const file = fileOf(
      "good.csv",
      HEADINGS,
      '2026-07-09,HS-1,SET,replaced,,yes,"L,2417",LS,"worn, early"',
      "2026-07-07,HS-1,SET,inspected,crack,,,LS,",
      "",
      "2026-07-07,hs-2,Ear cushion,Inspected,clean,no,,LS,",
    );
    const dry = await sparespan("log", path, "--from", file, "-n", ...DAY);
    expect(dry.out).toContain("line 2: replaced SET of HS-1 on 2026-07-09");
    expect(logged(path)).toEqual([]);
    const done = await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect([done.code, done.out]).toEqual([0, expect.stringContaining("3 jobs logged")]);
    expect(done.out).toContain("Electrode set of HS-1: next due 2026-10-09");
    expect(logged(path)).toEqual([
      [day("2026-07-07"), "HS-1", "SET", "inspected", "crack", null, null],
      [day("2026-07-07"), "HS-2", "CUSHION", "inspected", "clean", null, null],
      [day("2026-07-09"), "HS-1", "SET", "replaced", null, "yes", "L,2417"],
    ]);
    expect(sheetAt(path, "Kit").values[1]?.[2]).toBe(day("2026-07-09"));
    const again = await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect(again.out.match(/Already there/g)).toHaveLength(3);
    expect(again.out).toContain("nothing is written");
    expect(logged(path)).toHaveLength(3);
  });

  it("tells everything that is wrong, and writes nothing unless it is asked to", async () => {
    const path = await programme();
    const file = fileOf(
      "bad.csv",
      HEADINGS.replaceAll(",", ";"),
      "07/09/2026;HS-1;SET;changed;;maybe;;LS;",
      "2026-07-09;HS-9;SET;inspected;clean;;;LS;",
      "2026-07-09;HS-2;SET;inspected;clean;;;LS;",
      "2026-12-24;HS-2;SET;inspected;clean;;;;",
    );
    const { code, out } = await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect(code).toBe(2);
    expect(out).toMatch(
      /Refused: line 2: date must be a day as yyyy-mm-dd.*job must be .*complete must be yes or no/,
    );
    expect(out).toContain(
      'Refused: line 3: The job cannot be logged: "HS-9" is not in the register',
    );
    expect(out).toContain("Refused: line 5: by is missing");
    expect(out).toContain("3 lines refused, so nothing is written; give --partly");
    expect(logged(path)).toEqual([]);
    const part = await sparespan("log", path, "--from", file, "--partly", "--in-place", ...DAY);
    expect(part.code).toBe(1);
    expect(logged(path).map(([, device]) => device)).toEqual(["HS-2"]);
  });

  it.each([
    ["yes?", "L1", "", 'complete must be yes or no, got "yes?"'],
    ["yes", "L1", "not done", '"not done" may say that not the complete part was replaced'],
    ["yes", "L1", "old one put back", '"old one put back" may say'],
    ["yes", "L1", "fitted 3 June", '"fitted 3 June" may say'],
    ["yes", "none left, old one", "", '"none left, old one" may say'],
  ])("takes no replacement that is taken back: %s, %s, %s", async (complete, lot, note, why) => {
    const path = await programme();
    const line = `2026-07-07,HS-1,SET,replaced,,${complete},"${lot}",LS,${note}`;
    const file = fileOf("back.csv", HEADINGS, line);
    const { code, out } = await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect([code, logged(path)]).toEqual([2, []]);
    expect(out).toContain(why);
  });

  it("reads JSON lines, and refuses a key nobody knows", async () => {
    const path = await programme();
    const job = {
      date: "2026-07-09",
      device: "HS-2",
      part: "SET",
      job: "replaced",
      complete: true,
      by: "LS",
    };
    const file = fileOf(
      "jobs.jsonl",
      JSON.stringify(job),
      JSON.stringify({ ...job, device: "HS-1", complet: true }),
      "{broken",
    );
    const { out } = await sparespan("log", path, "--from", file, "-n", "--json", ...DAY);
    const { logged: good, refused } = JSON.parse(out) as {
      logged: { device: string }[];
      refused: { where: string; why: string }[];
    };
    expect(good.map(({ device }) => device)).toEqual(["HS-2"]);
    expect(refused.map(({ where }) => where)).toEqual(["line 2", "line 3"]);
    expect(refused[0]?.why).toContain("complet");
  });

  it("takes two replacements off the shelf as two", async () => {
    const path = await programme();
    typed(path, "Shelf", 0, { "On hand": 5, "Counted on": day("2026-07-01"), Site: null });
    const file = fileOf(
      "two.csv",
      HEADINGS,
      "2026-07-09,HS-1,SET,replaced,,yes,,LS,",
      "2026-07-09,HS-2,SET,replaced,,yes,,LS,",
    );
    const { out } = await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect(out).toContain("4 left");
    const shelf = sheetAt(path, "Shelf");
    expect(shelf.values[headingRow(shelf) + 1]?.[headingColumn(shelf, "On hand") ?? -1]).toBe(3);
  });

  it("does not go with the options of one job", async () => {
    const path = await programme();
    const file = fileOf("one.csv", HEADINGS);
    const { code, err } = await sparespan("log", path, "--from", file, "--device", "HS-1", "-n");
    expect([code, err]).toEqual([2, expect.stringContaining("--device is for one job")]);
    const none = await sparespan("log", path, "--part", "SET", "-n");
    expect(none.err).toContain("--device is needed");
  });
});

/** A heading of a sheet, written over. */
function renamed(path: string, name: string, from: string, to: string): void {
  const sheet = sheetAt(path, name);
  const column = headingColumn(sheet, from);
  if (column === null) throw new Error(`no ${from} on ${name}`);
  const blocks = [{ column, rows: [headingRow(sheet)], values: [to] }];
  const edits: Edit[] = [{ kind: "fillCells", sheet: name, blocks, expects: {} }];
  const book = openWorkbook(readFileSync(path));
  writeFileSync(path, applyPlan(book, { summary: "renamed", edits }));
}

/** Cells typed under headings, in a row below them. */
function typed(
  path: string,
  name: string,
  down: number,
  cells: Readonly<Record<string, CellValue>>,
): void {
  const book = openWorkbook(readFileSync(path));
  const sheet = sheetAt(path, name);
  const row = headingRow(sheet) + 1 + down;
  const edits = Object.entries(cells).map(([heading, value]): Edit => {
    const column = headingColumn(sheet, heading);
    if (column === null) throw new Error(`no ${heading} on ${name}`);
    const format = typeof value === "number" && value > 40000 ? { format: "dd/mm/yyyy" } : {};
    return {
      kind: "fillCells",
      sheet: name,
      blocks: [{ column, rows: [row], values: [value], ...format }],
      expects: {},
    };
  });
  writeFileSync(path, applyPlan(book, { summary: "typed", edits }));
}

describe("log --rounds", () => {
  async function filled(): Promise<{ path: string; rounds: string }> {
    const path = await programme();
    const rounds = at(`rounds ${made}.xlsx`);
    await sparespan("rounds", path, "-o", rounds, "--week", "2026-W28", ...DAY);
    return { path, rounds };
  }
  const clean = { "Date 1": day("2026-07-07"), "Clean 1": "x", "By 1": "LS" };

  it("logs an inspection each date and a replacement each lot, once", async () => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, {
      ...clean,
      "Date 2": day("2026-07-10"),
      "Crack 2": "hairline",
      "By 2": "MM",
      "Replaced, lot": "L9",
      Note: "seen at noon",
    });
    typed(rounds, "Round sheet South", 1, clean);
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, out]).toEqual([0, expect.stringContaining("4 jobs logged")]);
    expect(logged(path)).toEqual([
      [day("2026-07-07"), "HS-1", "SET", "inspected", "clean", null, null],
      [day("2026-07-07"), "HS-2", "CUSHION", "inspected", "clean", null, null],
      [day("2026-07-10"), "HS-1", "SET", "inspected", "crack", null, null],
      [day("2026-07-10"), "HS-1", "SET", "replaced", null, "yes", "L9"],
    ]);
    const again = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect(again.out.match(/Already there: Round sheet/g)).toHaveLength(4);
    expect(logged(path)).toHaveLength(4);
    const today = (await sparespan("today", path, ...DAY)).out;
    expect(today).not.toContain("out of use");
  });

  it("refuses what nobody can read, and then writes nothing", async () => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, { ...clean, "Date 2": day("2026-06-10"), "By 2": "LS" });
    typed(rounds, "Round sheet North", 1, { "Date 1": "Tuesday", "By 1": "LS", "Clean 1": "x" });
    typed(rounds, "Round sheet South", 0, { ...clean, "Clean 1": null, "Other 1": "wobbly" });
    typed(rounds, "Round sheet South", 1, { "Replaced, lot": "L7" });
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect(code).toBe(2);
    for (const why of [
      "in 2026-W24; the sheet is of 2026-W28",
      'must be a date, got "Tuesday"',
      'got "other: wobbly"',
      "no date says when",
    ]) {
      expect(out).toContain(why);
    }
    expect(logged(path)).toEqual([]);
  });

  it.each(["needs one", "ordered", "not done", "2", "soon?", "?"])(
    "takes no word for a complete new set that is neither a lot nor yes: %s",
    async (said) => {
      const { path, rounds } = await filled();
      typed(rounds, "Round sheet North", 0, { ...clean, "Replaced, lot": said });
      const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
      expect([code, logged(path)]).toEqual([2, []]);
      expect(out).toContain(`yes or no, got "${said}"`);
    },
  );

  it.each(["-", "n/a", "none", "0", "no"])("sees nothing replaced in %s", async (said) => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, { ...clean, "Replaced, lot": said });
    const { code } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, logged(path)]).toEqual([0, [logged(path)[0]]]);
    expect(logged(path)[0]?.[3]).toBe("inspected");
  });

  it.each([
    [{ "Replaced, lot": "L9", Note: "only the red one" }, "not the complete set"],
    [{ "Replaced, lot": "L9", Note: "left side" }, "not the complete set"],
  ])("asks about a note that may turn the words beside it: %o", async (cells, why) => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, { ...clean, ...cells });
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, logged(path)]).toEqual([2, []]);
    expect(out).toContain(why);
  });

  it("takes no crack for a job that is there already, where the log has that day as clean", async () => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, clean);
    await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    typed(rounds, "Round sheet North", 0, { ...clean, "Clean 1": null, "Crack 1": "x" });
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, logged(path).length]).toEqual([2, 1]);
    expect(out).not.toContain("Already there");
    expect(out).toContain("is already in the Job log");
  });

  it.each([
    ["residue", { "Residue 1": "x" }, "residue"],
    ["both of two kinds of damage", { "Crack 1": "✓", "Hardened 1": "yes" }, "crack"],
    [
      "the box that is ticked",
      { "Clean 1": "no", "Corrosion 1": "X", "Other 1": "-" },
      "corrosion",
    ],
    ["what stands in a box", { "Other 1": "residue behind the clip" }, "residue"],
    ["a word on a sheet of the earlier layout", { "Finding 1": "hardened" }, "hardened"],
  ])("takes %s from the boxes", async (_, cells, finding) => {
    const { path, rounds } = await filled();
    if ("Finding 1" in cells) renamed(rounds, "Round sheet North", "Other 1", "Finding 1");
    typed(rounds, "Round sheet North", 0, { ...clean, "Clean 1": null, ...cells });
    const { code, err } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, err]).toEqual([0, ""]);
    expect(logged(path)[0]?.[4]).toBe(finding);
  });

  it("asks where clean is ticked beside damage", async () => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, { ...clean, "Crack 1": "x" });
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, logged(path)]).toEqual([2, []]);
    expect(out).toContain(
      'inspection 1 is ticked as clean and as something else, got "clean; crack"',
    );
  });

  it.each(["no", "✗", "☒", false])("asks what was found where clean says %s", async (said) => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, { ...clean, "Clean 1": said });
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, logged(path)]).toEqual([2, []]);
    expect(out).toContain('got "not clean"');
  });

  it("loses no note that stands alone", async () => {
    const { path, rounds } = await filled();
    typed(rounds, "Round sheet North", 0, { Note: "cracked lead seen on Wednesday" });
    const { code, out } = await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect([code, logged(path)]).toEqual([2, []]);
    expect(out).toContain('the Note "cracked lead seen on Wednesday" stands alone');
  });

  it("says that there is no round sheet", async () => {
    const path = await programme();
    const { code, err } = await sparespan("log", path, "--rounds", path, "-n", ...DAY);
    expect([code, err]).toEqual([2, expect.stringContaining("has no round sheet")]);
  });
});
