import { describe, expect, it } from "vitest";
import { todayOf } from "../../../src/book/day/today.ts";
import { evidenceReport } from "../../../src/book/evidence/report.ts";
import type { Job } from "../../../src/book/records/records.ts";
import { day } from "../../../src/core/day.ts";
import { checkOf, type Kit, programme } from "../../scenes/kept-scene.ts";
import { partOf, small, yearOf } from "../../scenes/programme.ts";
import { jobOf, told } from "../../scenes/scene.ts";

const DATE = "2026-06-20";
const KIT: Kit = { id: "A-1", set: DATE, cushion: DATE };
const replaced = (more: Partial<Job> = {}): Job => jobOf("A-1", "SET", DATE, more);
const crack = (more: Partial<Job> = {}): Job =>
  checkOf("A-1", "SET", day(DATE), { finding: "crack", ...more });
const clean = (date: string, more: Partial<Job> = {}): Job =>
  checkOf("A-1", "CUSHION", day(date), more);

/** The state of the set by a log in the order of its rows, and what evidence says of its findings. */
function judged(jobs: readonly Job[], kit: Partial<Kit> = {}) {
  const inOrder = jobs.map((job, at) => ({ ...job, row: at + 3 }));
  const { snapshot, reading } = programme([{ ...KIT, ...kit }], { jobs: inOrder });
  const set = todayOf(snapshot, reading).items.find(({ part }) => part === "Electrode set");
  const { findings } = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
  return {
    state: set?.state ?? "Not due",
    open: findings.filter(({ closed }) => closed === null).length,
    problems: told(reading),
  };
}

describe("a finding and a replacement on the same day", () => {
  it("is closed where the finding stands above the replacement", () => {
    expect(judged([crack(), replaced()])).toMatchObject({ state: "Not due", open: 0 });
    expect(judged([replaced({ finding: "crack" })])).toMatchObject({ state: "Not due", open: 0 });
  });

  it("is open where the finding stands below it", () => {
    expect(judged([replaced(), crack()])).toMatchObject({ state: "Overdue", open: 1 });
    expect(judged([crack(), replaced(), crack()])).toMatchObject({ state: "Overdue", open: 1 });
  });

  it("is open where the log runs from new to old, or other days stand between", () => {
    const newestFirst = [clean("2026-06-24"), crack(), replaced(), clean("2026-06-02")];
    expect(judged(newestFirst)).toMatchObject({ state: "Overdue", open: 1 });
    const sorted = [crack(), clean("2026-06-24"), clean("2026-06-25"), replaced()];
    expect(judged(sorted)).toMatchObject({ state: "Overdue", open: 1 });
  });

  it("is open where only the register knows of the replacement", () => {
    expect(judged([crack()])).toMatchObject({ state: "Overdue", open: 1 });
    expect(judged([crack()], { set: "2026-06-21" })).toMatchObject({ state: "Not due" });
  });

  it("ends the lifetime that it belongs to", () => {
    const failed = (jobs: readonly Job[]): boolean[] => {
      const inOrder = jobs.map((job, at) => ({ ...job, row: at + 3 }));
      const given = small([{ id: "A-1" }], { ours: { jobs: inOrder } });
      return partOf(yearOf(given), "SET").wear.lifetimes.map((one) => one.failed);
    };
    const first = jobOf("A-1", "SET", "2026-03-20");
    expect(failed([first, crack(), replaced()])).toEqual([true, false]);
    expect(failed([first, replaced(), crack()])).toEqual([false, true]);
  });
});

describe("a replacement that was not complete", () => {
  it.each([[false], [null]])("leaves the register's same date in doubt: %s", (complete) => {
    const { state, problems } = judged([replaced({ complete })]);
    expect(state).toBe("Check row");
    expect(problems).toContain("date of a partial set F2");
  });

  it("is nothing to a complete one on the same day", () => {
    const { state, problems } = judged([replaced({ complete: false }), replaced()]);
    expect([state, problems.filter((one) => one.startsWith("date of"))]).toEqual(["Not due", []]);
  });
});

describe("a job that cannot be read", () => {
  it("never renews, and its finding stays open", () => {
    expect(judged([replaced({ date: null })], { set: "2026-01-05" }).state).toBe("Overdue");
    expect(judged([crack({ date: null }), replaced()]).state).toBe("Overdue");
    expect(judged([crack({ date: day("2026-09-01") }), replaced()]).state).toBe("Overdue");
  });

  it.each([
    ["no date", { date: null, job: "withdrawn" }],
    ["no date", { date: null, job: "seen" }],
    ["future date", { date: day("2026-09-01") }],
    ["unknown job", { job: "seen" }],
    ["unknown part", { part: "CABLE" }],
    ["unknown device", { device: "Z-9" }],
  ])("is told: %s", (kind, more) => {
    const { problems } = judged([crack({ finding: "clean", ...more })]);
    expect(problems.map((one) => one.replace(/ \S+$/, ""))).toContain(kind);
  });
});
