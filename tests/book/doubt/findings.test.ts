import { describe, expect, it } from "vitest";
import { roundsOf } from "../../../src/book/day/rounds.ts";
import { dueEvents } from "../../../src/book/day/calendar.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { evidenceReport } from "../../../src/book/evidence/report.ts";
import { ordersOf } from "../../../src/book/orders/orders.ts";
import { readJobs, JOB_LOG } from "../../../src/book/sheets/job-log.ts";
import type { Job } from "../../../src/book/records/records.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";
import { addMonths, type Day, day } from "../../../src/core/day.ts";
import { checkOf, type Kit, programme } from "../../scenes/kept-scene.ts";
import { JULY, partOf, small, yearOf } from "../../scenes/programme.ts";
import { jobOf, sheetOf, type Typed, told } from "../../scenes/scene.ts";

/** Twelve devices, each with a set replaced a year ago, worn out after so many days and replaced then. */
function worn(logged: "in its own line" | "with the replacement" | "never"): {
  readonly jobs: readonly Job[];
  readonly devices: readonly string[];
} {
  const devices = Array.from({ length: 12 }, (_, at) => `A-${at + 1}`);
  const began = "2025-07-01";
  const jobs = devices.flatMap((id, at) => {
    const found = (day(began) + 40 + 5 * at) as Day;
    const wears = at < 6 && logged !== "never";
    return [
      jobOf(id, "SET", began),
      ...(wears && logged === "in its own line"
        ? [checkOf(id, "SET", found, { finding: "crack" })]
        : []),
      {
        ...jobOf(id, "SET", began),
        date: (found + 2) as Day,
        finding: wears && logged === "with the replacement" ? "crack" : "",
      },
    ];
  });
  return { devices, jobs: jobs.map((job, row) => ({ ...job, row: row + 3 })) };
}

function yearWith({ jobs, devices }: ReturnType<typeof worn>) {
  const kits = devices.map((id) => ({ id }));
  const given = small(kits, { ours: { jobs } });
  return yearOf(given);
}

describe("wear found at an inspection and replaced in a later line", () => {
  const [own, within, never] = (["in its own line", "with the replacement", "never"] as const).map(
    (logged) => yearWith(worn(logged)),
  ) as [ReturnType<typeof yearOf>, ReturnType<typeof yearOf>, ReturnType<typeof yearOf>];

  it("counts as often as one logged with the replacement, once each", () => {
    expect(partOf(own, "SET").wear.failures).toBe(6);
    expect(partOf(within, "SET").wear.failures).toBe(6);
    expect(partOf(never, "SET").wear.failures).toBe(0);
  });

  it("ends the lifetime on the day it was found, not on the day of the replacement", () => {
    const first = partOf(own, "SET").wear.lifetimes.find(({ failed }) => failed);
    const later = partOf(within, "SET").wear.lifetimes.find(({ failed }) => failed);
    expect((later?.months ?? 0) - (first?.months ?? 0)).toBeCloseTo(2 / 30.436875, 9);
  });

  it("is needed early in the year, and kept as spares", () => {
    const early = (year: ReturnType<typeof yearOf>): number => partOf(year, "SET").total.unplanned;
    expect(early(own)).toBeGreaterThan(0.9 * early(within));
    expect(early(own)).toBeGreaterThan(5 * early(never));
    const kept = (year: ReturnType<typeof yearOf>): number =>
      ordersOf(year, false).places.find(({ part }) => part.code === "SET")?.safetyStock ?? 0;
    expect(kept(own)).toBeGreaterThan(kept(never));
    expect(kept(own)).toBeGreaterThanOrEqual(kept(within));
  });

  it("counts at whatever part it may be, on whatever day, in whatever word", () => {
    const wearOf = (found: Partial<Job>): readonly (readonly [string, number])[] => {
      const jobs = [
        jobOf("A-1", "SET", "2026-01-01", { row: 3 }),
        jobOf("A-1", "CUSHION", "2026-01-01", { row: 4 }),
        checkOf("A-1", "SET", day("2026-02-01"), { finding: "crack", row: 5, ...found }),
      ];
      const year = yearOf(small([{ id: "A-1" }], { ours: { jobs } }));
      return year.parts.map(({ part, wear }) => [part.code, wear.failures]);
    };
    expect(wearOf({})).toEqual([
      ["SET", 1],
      ["CUSHION", 0],
    ]);
    expect(wearOf({ part: "" })).toEqual([
      ["SET", 1],
      ["CUSHION", 1],
    ]);
    for (const more of [
      { date: null },
      { date: addMonths(JULY, 3) },
      { finding: "wobbly" },
      { job: "seen" },
    ]) {
      expect(wearOf(more)[0]).toEqual(["SET", 1]);
    }
    for (const finding of ["clean", "other", ""])
      expect(wearOf({ finding })[0]).toEqual(["SET", 0]);
  });

  it("is one event with the replacement after it, however often it was seen", () => {
    const jobs = [
      jobOf("A-1", "SET", "2026-01-01"),
      checkOf("A-1", "SET", day("2026-02-01"), { finding: "crack" }),
      checkOf("A-1", "SET", day("2026-02-03"), { finding: "crack" }),
      jobOf("A-1", "SET", "2026-02-05", { finding: "crack" }),
    ].map((job, row) => ({ ...job, row: row + 3 }));
    const { wear } = partOf(yearOf(small([{ id: "A-1" }], { ours: { jobs } })), "SET");
    expect(wear.lifetimes.map(({ failed }) => failed)).toEqual([true, false]);
  });
});

/** Judged on Tuesday 2026-06-30: a set of 1 June, due in September, and what was found. */
const KIT: Kit = { id: "A-1", set: "2026-06-01", cushion: "2026-06-01" };

function judged(kit: Partial<Kit>, jobs: readonly Job[] = []) {
  const { snapshot, reading } = programme([{ ...KIT, ...kit }], { jobs });
  const set = todayOf(snapshot, reading).items.find(({ part }) => part === "Electrode set");
  return { snapshot, reading, set };
}

describe("a finding in a word that nobody knows", () => {
  it.each([
    ["in the register", "wobbly", []],
    ["in the log", undefined, [checkOf("A-1", "SET", day("2026-06-20"), { finding: "wobbly" })]],
  ])("ends the part's life on every list: %s", (_, finding, jobs) => {
    const given = judged(finding === undefined ? {} : { finding }, jobs);
    const { snapshot, reading, set } = given;
    expect(set).toMatchObject({ state: "Overdue", why: "out of use: damage? wobbly" });
    const rounds = roundsOf(snapshot, reading, { monday: day("2026-06-29"), sites: [] });
    expect(rounds.rounds[0]?.rows.map(({ why }) => why)).toContain("out of use: damage? wobbly");
    expect(dueEvents(snapshot, reading, [])[0]?.summary).toMatch(/^Overdue/);
    const report = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
    expect(report.findings).toMatchObject([{ finding: "damage? wobbly", closed: null }]);
    expect(told(reading).filter((one) => one.startsWith("unknown finding"))).toHaveLength(1);
    const problem = reading.problems.find(({ kind }) => kind === "unknown finding");
    expect(problem?.cause).toContain('"wobbly"');
    expect(problem?.fix).toContain("clean, residue, corrosion, crack, hardened or other");
  });

  it("is settled by a listed word", () => {
    for (const finding of ["clean", "Other", " OK ", "good"]) {
      expect(judged({ finding }).set).toBeUndefined();
      const logged = checkOf("A-1", "SET", day("2026-06-20"), { finding });
      expect(judged({}, [logged]).set).toBeUndefined();
    }
  });
});

describe("a cell of the Job log that is no word", () => {
  const logOf = (finding: CellValue, job: CellValue = "inspected"): Job[] => {
    const headings = JOB_LOG.columns.map(({ heading }) => heading);
    const row: Typed[] = [day("2026-06-20"), "A-1", "SET", job, finding];
    return [...readJobs(sheetOf("Job log", [[JOB_LOG.title], [], headings, row]), 1900).jobs];
  };

  it.each([[{ error: "#N/A" }], [true], [7]])("counts as damage: %j", (finding) => {
    expect(judged({}, logOf(finding)).set?.state).toBe("Overdue");
  });

  it("is the same word in another case, with spaces and with marks nobody sees", () => {
    for (const job of [" Inspected ", "INSPECTED", "inspec\u200bted", "inspected\u00a0"]) {
      expect(logOf("clean", job)[0]?.job).toBe("inspected");
    }
    expect(logOf(" Cl\u200bEAN ")[0]?.finding).toBe("clean");
  });
});
