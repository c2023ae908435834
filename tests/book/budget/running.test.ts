import { describe, expect, it } from "vitest";
import { type Budget, type BudgetRequest, budgetOf } from "../../../src/book/budget/budget.ts";
import { budgetSheet } from "../../../src/book/budget/budget-sheet.ts";
import { fiscalYear } from "../../../src/book/budget/fiscal.ts";
import type { Job, Problem, ShelfItem } from "../../../src/book/records/records.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { day, isoText } from "../../../src/core/day.ts";
import { JULY, partsWith, siteWith, small } from "../../scenes/programme.ts";
import { jobOf } from "../../scenes/scene.ts";
import { onShelf } from "../../scenes/shelf.ts";

/** A fiscal year that is running, worked out by hand. */

interface Year {
  readonly jobs?: readonly Job[];
  readonly shelf?: readonly ShelfItem[];
  readonly doubts?: readonly Problem[];
  readonly request?: Partial<BudgetRequest>;
}

const LOGGED = ["2025-11-18", "2026-02-18", "2026-05-20"].map((date) => jobOf("A-1", "SET", date));

// Without wear the schedule is certain.
const whatIf = { ...NO_WHAT_IF, wear: "none" } as const;

/** The year 2026 on 6 July: sets of 100 replaced in February and May, cushions in May by the register alone. */
function running({ jobs = LOGGED, shelf = [], doubts = [], request = {} }: Year = {}): Budget {
  const { snapshot, reading } = small([{ id: "A-1" }], {
    parts: partsWith({}, { packPrice: 0 }),
    settings: { fiscalStart: 1 },
    sites: [siteWith("S01")],
    ours: { jobs, shelf, doubts },
  });
  return budgetOf(snapshot, reading, {
    ...{ from: day("2026-01-01"), level: null, pooled: false, births: false, whatIf },
    ...request,
  });
}

const leftOf = ({ places }: Budget): number =>
  places.reduce((sum, { part, packs }) => (part.code === "SET" ? sum + packs : sum), 0);

describe("the months of a running year", () => {
  it("are those still ahead, by quarter; quarters that are over are named", () => {
    const fiscal = fiscalYear(JULY, 1, day("2026-01-01"));
    expect(fiscal.passed.map(({ name, from }) => [name, isoText(from)])).toEqual([
      ["2026 Q1", "2026-01-01"],
      ["2026 Q2", "2026-04-01"],
    ]);
    expect(fiscal.quarters.map(({ name, first, last }) => [name, first, last])).toEqual([
      ["2026 Q3", 0, 2],
      ["2026 Q4", 3, 5],
    ]);
    expect([fiscal.months, fiscal.isRunning]).toEqual([6, true]);
  });

  it("begin within a quarter: its months that are over are not ahead", () => {
    const [first] = fiscalYear(JULY, 1, day("2026-05-01")).quarters;
    expect([first?.name, first?.first, first?.last]).toEqual(["2026-05 Q1", 0, 0]);
  });
});

describe("a fiscal year that is running", () => {
  it("is what was replaced, by log and register, and what is left to buy", () => {
    const found = running();
    expect(
      found.soFar?.done.map(({ part, date, cost }) => [part.code, isoText(date), cost]),
    ).toEqual([
      ["SET", "2026-02-18", 100],
      ["SET", "2026-05-20", 100],
      ["CUSHION", "2026-05-20", 0],
    ]);
    // August, November, and the spare that is kept and missing.
    expect([leftOf(found), found.expected]).toEqual([3, 300]);
    expect([found.soFar?.spent, found.whole]).toEqual([200, { expected: 500, upper: 500 }]);
  });

  it("buys nothing again that is on its way, and misses nothing", () => {
    const comes = [onShelf(null, { onOrder: 1, expectedOn: day("2026-07-20") })];
    const found = running({ shelf: comes });
    expect([leftOf(found), found.soFar?.onOrder]).toEqual([2, 100]);
    expect(found.whole?.expected).toBe(500);
    // More than the year asks for has been paid all the same.
    const plenty = running({ shelf: [onShelf(5)] });
    expect([leftOf(plenty), plenty.soFar?.stock]).toEqual([0, 400]);
    expect(plenty.whole?.expected).toBe(600);
  });

  it("takes what the accounts tell instead", () => {
    const found = running({ jobs: [], request: { spent: 250 } });
    expect([found.soFar?.spent, found.whole]).toEqual([250, { expected: 550, upper: 550 }]);
  });

  it("counts a replacement once, also where it is logged twice", () => {
    const twice = [...LOGGED, ...LOGGED];
    expect(running({ jobs: twice }).soFar?.replaced).toBe(200);
  });

  it.each<[string, Year]>([
    ["the Job log is empty", { jobs: [] }],
    ["the Job log begins on 2026-02-18", { jobs: LOGGED.slice(1) }],
    ["1 replacement in the Job log", { jobs: [...LOGGED, jobOf("A-1", "PAD", "2026-03-02")] }],
    ["no date expected", { shelf: [onShelf(null, { onOrder: 1 })] }],
    ["1 part in use without a date to be trusted", { jobs: LOGGED.slice(0, 2) }],
    [
      "cells in doubt: Shelf!C4 (On order)",
      {
        doubts: [
          {
            ...{ kind: "unusable cell", sheet: "Shelf", row: 3, column: 2, heading: "On order" },
            ...{ cause: "", fix: "", severity: "fault" },
          },
        ],
      },
    ],
  ])("gives no figure for the year where %s", (why, given) => {
    const found = running(given);
    expect([found.whole, found.soFar?.spent]).toEqual([null, null]);
    expect(found.soFar?.unknown.join("; ")).toContain(why);
    // What is left holds all the same, and no less of it than without doubt.
    expect(found.upper).toBeGreaterThanOrEqual(running().upper);
  });

  it("stands on the sheet with its quarters that are over, and as both", () => {
    const rows = budgetSheet(running()).rows.map(([item, quarter, , units, , cost]) => [
      ...[item, quarter, units, cost],
    ]);
    expect(rows.filter(([item]) => item === "Electrode set")).toEqual([
      ["Electrode set", "2026 Q1", 1, 100],
      ["Electrode set", "2026 Q2", 1, 100],
      ["Electrode set", "2026 Q3", 1, 200],
      ["Electrode set", "2026 Q4", 1, 100],
    ]);
    expect(rows.slice(0, 6).map(([item, , , cost]) => [item, cost])).toEqual([
      ["Left, all parts and freight", 300],
      ["Contingency (enough with 99%)", 0],
      ["Upper figure of what is left", 300],
      ["Spent so far", 200],
      ["The year, expected", 500],
      ["The year, upper figure", 500],
    ]);
  });
});
