import { describe, expect, it } from "vitest";
import { budgetOf } from "../../../src/book/budget/budget.ts";
import { judge } from "../../../src/book/columns/judge.ts";
import { ourColumns } from "../../../src/book/columns/columns.ts";
import { dueEvents } from "../../../src/book/day/calendar.ts";
import { logEntry } from "../../../src/book/day/entry.ts";
import { roundsOf } from "../../../src/book/day/rounds.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { evidenceReport } from "../../../src/book/evidence/report.ts";
import { ordersOf } from "../../../src/book/orders/orders.ts";
import type { Part } from "../../../src/book/records/records.ts";
import { JOB_LOG } from "../../../src/book/sheets/job-log.ts";
import { makeSheet } from "../../../src/book/sheets/make-sheet.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { JULY, partOf, small, type Typical, yearOf } from "../../scenes/programme.ts";
import { programme } from "../../scenes/kept-scene.ts";
import { on, told } from "../../scenes/scene.ts";
import { onPaper } from "../../taskpane/paper.ts";

const counts = [60, 60, 60, 60];
/** Sets of 180 uses at 20 uses a month: the longest six months. */
const LIGHT = [20, 20, 20, 20];
const BOTH: readonly Typical[] = [
  { id: "A-1", counts: LIGHT, set: on("2026-05-20") },
  { id: "B-2", counts, set: on("2026-05-20") },
];
const USUAL = { from: null, level: null, pooled: false, births: false, whatIf: NO_WHAT_IF };

const withRow = (id: string, more: Partial<Typical> = {}) =>
  small([...BOTH, { id, set: on("2026-03-20"), ...more }]);

describe.each([["A-1"], ["a-1"], [" A-1 "], ["A\u200b-1"], ["A-1\u00a0"]])(
  "a device that stands in the register twice, the second time as %j",
  (id) => {
    const given = withRow(id);
    const { snapshot, reading } = given;
    const once = small(BOTH);

    it("is told at both rows", () => {
      const rows = told(reading).filter((one) => one.startsWith("duplicate device"));
      expect(rows.map((one) => one.replace(/\D+/g, ""))).toEqual(
        expect.arrayContaining(["2", "4"].map((row) => expect.stringContaining(row) as string)),
      );
      expect(rows).toHaveLength(2);
    });

    it("is Check row with the shortest interval in both rows, also in the columns", () => {
      const set = reading.ours.parts[0] as Part;
      const rows = judge(snapshot, reading).rows(set);
      expect(rows.map(({ answers }) => [answers.interval, answers.state])).toEqual([
        [3, "Check row"],
        [3, "Not due"],
        [3, "Check row"],
      ]);
      const doubts = ourColumns(snapshot, reading, "portable")[0]?.columns.find(
        ({ title }) => title === "Electrode set: date in doubt",
      );
      expect(doubts?.values).toEqual([
        "Device is in several rows",
        null,
        "Device is in several rows",
      ]);
    });

    it("stays twice on the lists of the day", () => {
      const items = todayOf(snapshot, reading).items;
      expect(items.filter(({ part }) => part === "Electrode set")).toMatchObject([
        { state: "Check row", why: "Date in doubt: device is in several rows" },
        { state: "Check row", why: "Date in doubt: device is in several rows" },
      ]);
      const rounds = roundsOf(snapshot, reading, { monday: JULY, sites: [] });
      const rows = rounds.rounds.flatMap(({ rows: all }) => all);
      expect(rows.filter(({ state, part }) => part.code === "SET" && state !== "")).toHaveLength(2);
      const events = dueEvents(snapshot, reading, []);
      expect(new Set(events.map(({ uid }) => uid)).size).toBe(events.length);
      expect(events.filter(({ summary }) => /^Check row.*set/i.test(summary))).toHaveLength(2);
    });

    it("is needed no later and in no smaller number", () => {
      const [twice, single] = [yearOf(given), yearOf(once)];
      const need = (year: typeof twice): number => partOf(year, "SET").total.expected;
      expect(need(twice)).toBeGreaterThan(need(single));
      const spares = (year: typeof twice): number[] =>
        ordersOf(year, false).places.map(({ safetyStock }) => safetyStock);
      spares(single).forEach((units, at) => {
        expect(spares(twice)[at]).toBeGreaterThanOrEqual(units);
      });
      expect(budgetOf(snapshot, reading, USUAL).upper).toBeGreaterThan(
        budgetOf(once.snapshot, once.reading, USUAL).upper,
      );
      expect(partOf(twice, "SET").units.map(({ doubt }) => doubt)).toEqual([
        "Date in doubt (device is in several rows): taken as due at once",
        "",
        "Date in doubt (device is in several rows): taken as due at once",
      ]);
    });

    it("is used once, so that no other interval lengthens", () => {
      const [twice, single] = [yearOf(given).use, yearOf(once).use];
      expect(twice.devices.get("b-2")).toBeCloseTo(single.devices.get("b-2") ?? 0, 9);
      const then = (year: ReturnType<typeof yearOf>): number[] =>
        year.parts.map(({ units }) => units.find(({ device }) => device === "B-2")?.then ?? 0);
      expect(then(yearOf(given))).toEqual(then(yearOf(once)));
    });

    it("is named in what evidence does not count", () => {
      const report = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
      expect(report.leftOut.join()).toMatch(/a.?-1.* more than one row/i);
    });

    it("is logged only where somebody says which row is meant", () => {
      const book = onPaper(snapshot, {
        summary: "a Job log",
        edits: makeSheet(JOB_LOG, JOB_LOG.name, []),
      });
      const entry = {
        ...{ date: JULY, device: "A-1", part: "SET", job: "replaced", finding: "" },
        ...{ complete: true, lot: "", by: "LS", note: "" },
      };
      const log = (row: number | null) =>
        logEntry(book, reading, { entry: { ...entry, row }, again: false });
      expect(() => log(null)).toThrow("rows 2 and 4");
      expect(() => log(3)).toThrow("row 3 of Equipment is not A-1");
      expect(log(4).device.row).toBe(3);
      expect(log(2).device.row).toBe(1);
    });
  },
);

describe("a finding in the lower of two rows", () => {
  it("is on the list of findings, and overdue", () => {
    const { snapshot, reading } = programme([
      { id: "A-1", set: "2026-06-01" },
      { id: "a-1", set: "2026-06-01", finding: "crack" },
    ]);
    const { findings } = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
    expect(findings).toMatchObject([{ finding: "crack", closed: null }]);
    const set = todayOf(snapshot, reading).items.filter(({ part }) => part === "Electrode set");
    expect(set.map(({ device, state }) => [device, state])).toEqual([
      ["a-1", "Overdue"],
      ["A-1", "Check row"],
    ]);
  });
});

describe("work of a device in two rows that is late", () => {
  it("stays late in evidence, and a date that cannot be trusted is named there", () => {
    const late = { id: "A-1", set: "2026-01-05", cushion: "2026-05-01" };
    const report = (kits: Parameters<typeof programme>[0]) => {
      const { snapshot, reading } = programme(kits);
      return evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
    };
    const [once, twice] = [report([late]), report([late, late])];
    expect(once.onTime.turns.map(({ daysLate }) => daysLate)).toEqual([88]);
    expect(twice.onTime.turns).toEqual(once.onTime.turns);
    const undated = report([{ ...late, set: "05/01/2026" }]);
    expect(undated.leftOut).toContain("Electrode set of A-1: no date that can be trusted");
  });
});

describe("a device that was retired and stands in a later row again", () => {
  it("is in doubt where it is in service, and retired where it is not", () => {
    const left = { status: "Retired", retiredOn: on("2025-06-01"), set: on("2025-05-01") };
    const given = small([
      { id: "A-1", ...left, cushion: on("2025-05-01") },
      { id: "A-1", set: on("2026-05-20") },
    ]);
    const { snapshot, reading } = given;
    const [set] = reading.ours.parts as [Part];
    const states = judge(snapshot, reading)
      .rows(set)
      .map(({ answers }) => answers.state);
    expect(states).toEqual(["Retired", "Check row"]);
    expect(partOf(yearOf(given), "SET").units).toHaveLength(1);
  });
});
