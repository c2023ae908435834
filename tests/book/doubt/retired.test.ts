import { describe, expect, it } from "vitest";
import { type BudgetRequest, budgetOf } from "../../../src/book/budget/budget.ts";
import { dueEvents } from "../../../src/book/day/calendar.ts";
import { roundsOf } from "../../../src/book/day/rounds.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { inspectionCompliance } from "../../../src/book/evidence/inspections.ts";
import { servingFleet } from "../../../src/book/reading/dates/serving.ts";
import { doubtText } from "../../../src/book/records/doubt-causes.ts";
import type { RowDoubt } from "../../../src/book/records/problem-kinds.ts";
import { jobIndex } from "../../../src/book/records/job-index.ts";
import { ordersOf } from "../../../src/book/orders/orders.ts";
import type { Job } from "../../../src/book/records/records.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { day } from "../../../src/core/day.ts";
import { checkOf } from "../../scenes/kept-scene.ts";
import { JULY, partOf, partsWith, small, type Typical, yearOf } from "../../scenes/programme.ts";
import { jobOf, on, told } from "../../scenes/scene.ts";

const USUAL: BudgetRequest = {
  ...{ from: null, level: null, pooled: false, births: false, whatIf: NO_WHAT_IF },
};

/** Two devices in service beside the one in question, which no job may forget. */
function jobsOf(one: Partial<Typical>, jobs: readonly Job[] = []) {
  const given = small([{ id: "A-1", ...one }, { id: "A-2" }, { id: "A-3" }], {
    parts: partsWith(),
    settings: { spares: "device" },
    ours: { jobs },
  });
  const { snapshot, reading } = given;
  const year = yearOf(given);
  const { devices } = servingFleet(snapshot, reading, []);
  const period = { from: day("2026-06-01"), to: day("2026-07-05"), weeks: [day("2026-06-08")] };
  const log = jobIndex(reading.ours);
  const asked = { devices, log, period, parts: reading.ours.parts };
  const rounds = roundsOf(snapshot, reading, { monday: JULY, sites: [] });
  return {
    problems: told(reading),
    today: todayOf(snapshot, reading).items.filter(({ device }) => device === "A-1"),
    need: partOf(year, "SET").total.expected,
    named: partOf(year, "SET").units.filter(({ device }) => device === "A-1"),
    spares: ordersOf(year, false).places.map(({ safetyStock }) => safetyStock),
    budget: budgetOf(snapshot, reading, USUAL).upper,
    inspections: inspectionCompliance(asked).weeks[0]?.devices,
    round: rounds.rounds.flatMap(({ rows }) => rows).filter(({ device }) => device === "A-1"),
    events: dueEvents(snapshot, reading, []).filter(({ summary }) => summary.includes("A-1")),
  };
}

const before = jobsOf({});
const late = checkOf("A-1", "SET", day("2026-06-25"));
const ON = on("2026-06-01");

describe("a retirement that something contradicts", () => {
  it.each<[string, RowDoubt, Partial<Typical>, readonly Job[]]>([
    ["a job of a later day", "retired but in use", { status: "Retired", retiredOn: ON }, [late]],
    [
      "a count of a later month",
      "retired but in use",
      {
        status: "Retired",
        retiredOn: on("2026-05-01"),
        set: on("2026-04-01"),
        cushion: on("2026-04-01"),
        counts: [9, 9, 9],
      },
      [],
    ],
    [
      "a later date in its row",
      "retired but in use",
      { status: "Retired", retiredOn: ON, set: on("2026-06-20") },
      [],
    ],
    [
      "no day, and a job of late",
      "retired but in use",
      { status: "Retired", set: on("2025-12-01"), cushion: on("2025-12-01") },
      [late],
    ],
    [
      "a status that says in service",
      "retirement in doubt",
      { status: "In service", retiredOn: ON },
      [],
    ],
    [
      "a day to come",
      "retirement in doubt",
      {
        status: "Retired",
        retiredOn: on("2026-09-01"),
        set: on("2025-12-01"),
        cushion: on("2025-12-01"),
      },
      [],
    ],
    [
      "a day in words",
      "retirement in doubt",
      { status: "Retired", retiredOn: "June", set: on("2025-12-01"), cushion: on("2025-12-01") },
      [],
    ],
    [
      "a day with an error",
      "retirement in doubt",
      {
        status: "Retired",
        retiredOn: { error: "#N/A" },
        set: on("2025-12-01"),
        cushion: on("2025-12-01"),
      },
      [],
    ],
  ])("keeps the device on every list: %s", (_, kind, one, jobs) => {
    const given = jobsOf(one, jobs);
    expect(
      given.problems.some(
        (text) =>
          text.startsWith(kind) || text.startsWith("text date") || text.startsWith("cell error"),
      ),
    ).toBe(true);
    expect(given.today.map(({ state }) => state)).toEqual(["Check row", "Check row"]);
    expect(given.need).toBeGreaterThanOrEqual(before.need);
    expect(given.named.map(({ doubt }) => doubt)).toEqual([
      `Date in doubt (${doubtText(kind)}): taken as due at once`,
    ]);
    expect(given.spares.every((units, at) => units >= (before.spares[at] ?? 0))).toBe(true);
    expect(given.budget).toBeGreaterThanOrEqual(before.budget);
    expect(given.inspections).toBe(before.inspections);
    expect(given.round.map(({ why }) => why)).toEqual(given.today.map(({ why }) => why));
    expect(given.today[0]?.why).toBe(`Date in doubt: ${doubtText(kind)}`);
    expect(given.events).toHaveLength(2);
  });

  it.each<[string, Partial<Typical>]>([
    ["an unknown word", { status: "mothballed" }],
    ["a word with a mark in it", { status: "Retired\u00a0!" }],
    ["a day that is no day", { retiredOn: "soon" }],
    ["a day of another century", { retiredOn: on("1921-03-01") }],
  ])("is none: %s", (_, one) => {
    const given = jobsOf(one);
    expect(given.problems.length).toBeGreaterThan(before.problems.length);
    expect(given.need).toBeCloseTo(before.need, 9);
    expect(given.budget).toBe(before.budget);
    expect(given.inspections).toBe(before.inspections);
    expect(given.named).toHaveLength(1);
  });

  it("is one that holds where nothing does", () => {
    const given = jobsOf(
      {
        status: "Retired",
        retiredOn: on("2026-06-01"),
        set: on("2026-01-05"),
        cushion: on("2026-01-05"),
      },
      [
        jobOf("A-1", "SET", "2026-01-05"),
        checkOf("A-1", "", day("2026-06-03"), { job: "withdrawn", finding: "" }),
      ],
    );
    expect(given.today).toEqual([]);
    expect(given.named).toEqual([]);
    expect(given.need).toBeLessThan(before.need);
  });
});

describe("others at the site of a device whose retirement is in doubt", () => {
  it("are expected to be used no less than if it had left", () => {
    const others = (one: Partial<Typical>): number[] => {
      const counts = [20, 20, 20, 20];
      const given = small(
        [
          { id: "A-1", counts, ...one },
          { id: "A-2", counts },
          { id: "A-3", counts },
        ],
        {},
      );
      const { devices } = yearOf(given).use;
      return ["a-2", "a-3"].map((key) => devices.get(key) ?? 0);
    };
    const left = others({ status: "Retired", retiredOn: on("2026-07-01") });
    const doubted = others({ status: "In service", retiredOn: on("2026-07-01") });
    doubted.forEach((uses, at) => {
      expect(uses).toBeGreaterThanOrEqual(left[at] ?? Infinity);
    });
  });
});
