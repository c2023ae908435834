import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { steadyPlan } from "../scenes/steady-book.ts";
import { sheetAt, sparespan } from "./session.ts";

const folder = mkdtempSync(join(tmpdir(), "sparespan-doubt-"));
const BOOK = join(folder, "doubtful.xlsx");
const FIRST_PART = 3;
const PRICE = 13;

/** The steady programme with its use budget and one price in words. */
beforeAll(() => {
  const book = openWorkbook(newWorkbook(steadyPlan()));
  const put = (column: number, value: string): Plan["edits"][number] => ({
    kind: "fillCells",
    sheet: "Parts",
    blocks: [{ column, rows: [FIRST_PART], values: [value] }],
    expects: {},
  });
  const edits = [put(4, "about 180"), put(PRICE, "ask")];
  writeFileSync(BOOK, applyPlan(book, { summary: "slips of the pen", edits }));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const SAID =
  "In doubt: 2 cells of our sheets, so the more careful of what is usual and what other rows say is used: Parts!E4 (Use budget (uses)) and Parts!N4 (Pack price).";

describe("a workbook with cells of ours in doubt", () => {
  it.each([
    "today",
    "ahead",
    "order",
    "budget",
    "evidence",
    "summary",
    "rounds",
    "calendar",
    "share order -n",
    "share mail",
  ])("is named in the first line of %s, and in its JSON", async (command) => {
    const words = [...command.split(" "), BOOK];
    const { code, out } = await sparespan(...words);
    expect(code).toBe(1);
    expect(out.split("\n")[0]?.startsWith(SAID)).toBe(true);
    const json = JSON.parse((await sparespan(...words, "--json")).out) as object;
    expect(json).toMatchObject({
      doubts: ["Parts!E4 (Use budget (uses))", "Parts!N4 (Pack price)"],
    });
  });

  it("gets no upper figure of a budget", async () => {
    const { out } = await sparespan("budget", BOOK);
    expect(out.split("\n")[1]).toContain("Not complete, so no upper figure is given");
    expect(out).not.toContain("enough with a chance");
    const json = JSON.parse((await sparespan("budget", BOOK, "--json")).out) as object;
    expect(json).toMatchObject({ upper: null, contingency: null });
  });

  it("has its doubt above the sheets that rest on it", async () => {
    const written = join(folder, "ordered.xlsx");
    await sparespan("order", BOOK, "-o", written);
    const notes = JSON.stringify(sheetAt(written, "Order list").values.slice(1, 4));
    expect(notes).toContain("In doubt: 2 cells of our sheets");
  });
});

describe("an option that cannot be read", () => {
  it.each([
    ["today", "--report-date", "6 July"],
    ["check", "--day-order", "ymd"],
    ["ahead", "--volume", "some"],
    ["ahead", "--level", "high"],
    ["ahead", "--interval", "SET=three"],
    ["ahead", "--add", "S01=two"],
    ["order", "--wipes", "S01=water"],
    ["order", "--wear", "some"],
    ["order", "--retire", "D-99"],
    ["budget", "--from", "July"],
    ["budget", "--level", "80"],
    ["columns", "--as", "text"],
  ])("is refused in a sentence: %s %s %s", async (command, option, value) => {
    const { code, out, err } = await sparespan(command, BOOK, option, value);
    expect(code).toBeGreaterThan(1);
    expect(out).toBe("");
    expect(err).toMatch(/must be|is not in the register/);
  });
});
