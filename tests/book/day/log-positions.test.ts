import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { headingColumn, headingRow } from "../../../src/book/sheets/layout.ts";
import type { Edit } from "../../../src/book/workbook/plan.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";
import { day } from "../../../src/core/day.ts";
import { applyPlan, openWorkbook } from "../../../src/xlsx/index.ts";
import { sheetAt, sparespan } from "../../cli/session.ts";
import { typedBook } from "../../scenes/own-log-book.ts";

/** Jobs of a part with positions, by the command line: one, a file of them, and round sheets. */
const folder = mkdtempSync(join(tmpdir(), "sparespan-log-positions-"));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
const at = (name: string): string => join(folder, name);
const DAY = ["--report-date", "2026-07-12"];

let made = 0;
async function programme(): Promise<string> {
  const path = at(`kit ${(made += 1)}.xlsx`);
  const kit = [
    ["Device", "Site", "Electrodes changed", "Left cushion replaced", "Right cushion replaced"],
    ["HS-1", "North", "2026-06-02", "2026-03-02", "2026-04-02"],
    ["HS-2", "South", "2026-06-02", "2026-06-02", "2026-06-02"],
  ] as const;
  writeFileSync(path, typedBook({ Kit: kit }));
  await sparespan("columns", path, "--in-place", ...DAY);
  return path;
}

/** The dates of HS-1's cushions, and the rows of the Job log: part, job, complete. */
function state(path: string) {
  const log = sheetAt(path, "Job log");
  const columns = ["Part", "Job", "Complete set"].map((one) => headingColumn(log, one) ?? -1);
  return {
    dates: sheetAt(path, "Kit").values[1]?.slice(3, 5),
    jobs: log.values
      .slice(headingRow(log) + 1)
      .filter((row) => row.some((value) => value !== null))
      .map((row) => columns.map((column) => row[column] ?? null)),
  };
}

const [march, april, july] = [day("2026-03-02"), day("2026-04-02"), day("2026-07-09")];
const JOB = ["--device", "HS-1", "--part", "CUSHION", "--job", "replaced", "--by", "LS"];

describe("a job of one position", () => {
  it("is logged by --position, and once", async () => {
    const path = await programme();
    const words = ["log", path, ...JOB, "--position", "Left", "--date", "2026-07-09", ...DAY];
    const { out } = await sparespan(...words, "--in-place");
    expect(out).toContain("Ear cushion, left of HS-1: next due 2027-01-08");
    expect(state(path)).toEqual({
      dates: [july, april],
      jobs: [["CUSHION left", "replaced", null]],
    });
    expect((await sparespan(...words, "-n")).err).toContain("is already in the Job log");
    expect((await sparespan("check", path, ...DAY)).code).toBe(0);
  });

  it("takes one unit off the shelf, a complete set one for each", async () => {
    const shelfAfter = async (...more: string[]) => {
      const path = await programme();
      typed(path, "Shelf", 1, { "On hand": 5, "Counted on": day("2026-07-01") });
      return (await sparespan("log", path, ...JOB, ...more, "-n", ...DAY)).out;
    };
    expect(await shelfAfter("--position", "right")).toContain("shelf at North: 4 left");
    expect(await shelfAfter("--complete")).toContain("shelf at North: 3 left");
  });

  it("may be a line of a file", async () => {
    const path = await programme();
    const file = at("jobs.csv");
    writeFileSync(
      file,
      "date,device,part,position,job,by\n2026-07-09,HS-1,CUSHION,right,replaced,LS\n",
    );
    await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect(state(path).dates).toEqual([march, july]);
    const again = await sparespan("log", path, "--from", file, "--in-place", ...DAY);
    expect(again.out).toContain("Already there");
  });

  it("may be a line of a round sheet, which has one for each", async () => {
    const path = await programme();
    const rounds = at(`rounds ${made}.xlsx`);
    await sparespan("rounds", path, "-o", rounds, "--week", "2026-W28", ...DAY);
    const sheet = sheetAt(rounds, "Round sheet North");
    const part = headingColumn(sheet, "Part") ?? -1;
    const lines = sheet.values.slice(headingRow(sheet) + 1).map((row) => row[part]);
    expect(lines).toEqual(["Electrode set", "Ear cushion, left", "Ear cushion, right"]);
    const clean = { "Date 1": july, "Clean 1": "x", "By 1": "LS" };
    typed(rounds, "Round sheet North", 1, { ...clean, "Replaced, lot": "L9" });
    typed(rounds, "Round sheet North", 2, clean);
    await sparespan("log", path, "--rounds", rounds, "--in-place", ...DAY);
    expect(state(path)).toEqual({
      dates: [july, april],
      jobs: [
        ["CUSHION left", "inspected", null],
        ["CUSHION left", "replaced", null],
        ["CUSHION right", "inspected", null],
      ],
    });
  });
});

/** Cells typed under headings, in a row below them. */
function typed(
  path: string,
  name: string,
  down: number,
  cells: Readonly<Record<string, CellValue>>,
): void {
  const book = openWorkbook(readFileSync(path));
  const sheet = sheetAt(path, name);
  const edits = Object.entries(cells).map(([heading, value]): Edit => {
    const column = headingColumn(sheet, heading) ?? -1;
    const format = typeof value === "number" && value > 40000 ? { format: "yyyy-mm-dd" } : {};
    return {
      kind: "fillCells",
      sheet: name,
      blocks: [{ column, rows: [headingRow(sheet) + 1 + down], values: [value], ...format }],
      expects: {},
    };
  });
  writeFileSync(path, applyPlan(book, { summary: "typed", edits }));
}
