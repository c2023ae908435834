import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findingRecords } from "../../../src/book/evidence/finding.ts";
import { inspectionCompliance } from "../../../src/book/evidence/inspections.ts";
import { jobIndex } from "../../../src/book/records/job-index.ts";
import {
  comingWeek,
  evidencePeriod,
  weekNamed,
  weekText,
} from "../../../src/book/evidence/period.ts";
import { type EvidenceReport, evidenceReport } from "../../../src/book/evidence/report.ts";
import { servingFleet } from "../../../src/book/reading/dates/serving.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import type { Job } from "../../../src/book/records/records.ts";
import { evidenceSheet, roundedDown } from "../../../src/book/evidence/evidence-sheet.ts";
import { lateSheet } from "../../../src/book/evidence/late-work.ts";
import { headingRow } from "../../../src/book/sheets/layout.ts";
import { weeksSheet } from "../../../src/book/evidence/weeks-kept.ts";
import { resultEdits } from "../../../src/book/sheets/result.ts";
import { type Day, day, isoText, isoWeek } from "../../../src/core/day.ts";
import { checkOf, type Kit, programme } from "../../scenes/kept-scene.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { jobOf, REPORT_DATE } from "../../scenes/scene.ts";

const USUAL = { from: null, to: null, sites: [] } as const;

/** The report of a book, on the report date Tuesday 2026-06-30. */
function reportOf(
  kits: readonly Kit[],
  jobs: readonly Job[],
  given: Partial<Parameters<typeof evidenceReport>[2]> = {},
): EvidenceReport {
  const { snapshot, reading } = programme(kits, { jobs });
  return evidenceReport(snapshot, reading, { ...USUAL, ...given });
}

const ONE_WEEK = { from: day("2026-06-01"), to: day("2026-06-07") };

describe("the period looked back on", () => {
  it.each([
    ["2026-06-30", "2026-03-30", "2026-06-22"],
    ["2026-07-05", "2026-03-30", "2026-06-22"],
    ["2026-07-06", "2026-04-06", "2026-06-29"],
  ])("is, from %s, the 13 whole weeks from %s to that of %s", (date, first, last) => {
    const { from, to, weeks } = evidencePeriod(day(date), null, null);
    expect([isoText(from), isoText(to)]).toEqual([first, date]);
    expect([weeks.length, weeks[0], weeks.at(-1)]).toEqual([13, day(first), day(last)]);
  });

  it("holds whole weeks only where two days are given", () => {
    const { weeks } = evidencePeriod(REPORT_DATE, day("2026-06-02"), day("2026-06-20"));
    expect(weeks).toEqual([day("2026-06-08")]);
    expect(evidencePeriod(REPORT_DATE, day("2026-06-02"), day("2026-06-06")).weeks).toEqual([]);
  });

  it("is refused where it cannot be", () => {
    expect(() => evidencePeriod(REPORT_DATE, null, day("2026-07-01"))).toThrow(
      "the period must end on or before the report date 2026-06-30, got 2026-07-01",
    );
    expect(() => evidencePeriod(REPORT_DATE, day("2026-06-02"), day("2026-06-01"))).toThrow(
      "the period must begin on or before 2026-06-01, got 2026-06-02",
    );
    expect(() => evidencePeriod(REPORT_DATE, day("2000-01-01"), null)).toThrow(
      "the period must be at most 261 weeks, got 1382",
    );
  });

  it("names weeks as ISO 8601 does and finds them again", () => {
    fc.assert(
      fc.property(fc.integer({ min: 8000, max: 100_000 }), (serial) => {
        const date = serial as Day;
        const { year, week } = isoWeek(date);
        expect(weekText(date)).toBe(`${year}-W${String(week).padStart(2, "0")}`);
        expect(date - weekNamed(weekText(date))).toBeLessThan(7);
        expect(comingWeek(date) - date).toBeLessThan(7);
        expect(comingWeek(date)).toBeGreaterThanOrEqual(date);
      }),
    );
    expect(() => weekNamed("2025-W53")).toThrow(
      'week must be an ISO week such as 2026-W28, got "2025-W53"',
    );
  });
});

describe("inspections kept", () => {
  it("count distinct days, at most as many as are due", () => {
    const jobs = [
      ...["2026-06-01", "2026-06-01", "2026-06-02", "2026-06-05"].map((date) =>
        checkOf("A1", "Electrode set", day(date)),
      ),
      checkOf("a1 ", "CUSHION", day("2026-06-07")),
    ];
    const { inspections } = reportOf([{ id: "A1" }], jobs, ONE_WEEK);
    expect(inspections.siteWeeks).toEqual([
      {
        site: "S01",
        monday: day("2026-06-01"),
        devices: 1,
        due: 4,
        kept: 3,
        missing: ["A1"],
      },
    ]);
  });

  it("leave out a week that a device served only in part, and say so", () => {
    const kits = [
      { id: "Whole", commissioned: "2026-06-01" },
      { id: "Later", commissioned: "2026-06-02" },
      { id: "Left", retired: "2026-06-07" },
      { id: "Stayed", retired: "2026-06-08" },
      { id: "Gone", retired: "2026-06-01" },
      { id: "Coming", commissioned: "2026-06-08" },
    ];
    const report = reportOf(kits, [], ONE_WEEK);
    expect(report.inspections).toMatchObject({
      partWeeks: 2,
      siteWeeks: [{ devices: 2, due: 8, kept: 0, missing: ["Whole", "Stayed"] }],
    });
    expect(report.leftOut).toEqual([
      "Electrode set of Whole, Later and Stayed: no date that can be trusted",
      "Ear cushion of Whole, Later and Stayed: no date that can be trusted",
      "2 weeks in which a device came or left",
    ]);
  });

  it("leave out a device that left on a day nobody wrote, keep one whose day cannot be read, count the first of two rows", () => {
    const kits = [
      { id: "A1", status: "retired" },
      { id: "A2", retired: "in spring", status: "retired" },
      { id: "A3" },
      { id: "A3", site: "S02" },
    ];
    const report = reportOf(kits, [], ONE_WEEK);
    expect(report.inspections.weeks[0]).toMatchObject({ devices: 2, due: 8 });
    expect(report.leftOut).toEqual([
      "A1: retired, without a day in the register",
      "A3: in more than one row of the register, counted by the first",
      "Electrode set of A2 and A3: no date that can be trusted",
      "Ear cushion of A2 and A3: no date that can be trusted",
    ]);
  });

  it("of a device without a known site stand under no site; spellings of a site are one", () => {
    const kits = [
      { id: "A1", site: "" },
      { id: "A2", site: "s09" },
      { id: "A3", site: "S09" },
    ];
    const { inspections } = reportOf(kits, [], ONE_WEEK);
    expect(inspections.siteWeeks.map(({ site, devices }) => [site, devices])).toEqual([
      ["no site", 1],
      ["s09", 2],
    ]);
    expect(() => reportOf(kits, [], { ...ONE_WEEK, sites: ["S10"] })).toThrow(
      'the site must be one of the book\'s (no site and s09), got "S10"',
    );
    expect(reportOf(kits, [], { ...ONE_WEEK, sites: ["S09"] }).inspections.siteWeeks).toHaveLength(
      1,
    );
  });

  it("have no share, chart or limits where nothing was due", () => {
    const report = reportOf([{ id: "A1", commissioned: "2026-06-29" }], []);
    expect(report.chart).toBeNull();
    expect(report.measures[0]).toEqual({
      ...{ name: "Inspections kept", site: "All" },
      ...{ due: 0, done: 0, kept: null, missing: "" },
    });
    expect(evidenceSheet(report).rows[0]?.slice(2)).toEqual([0, 0, 0, null, null, null, null]);
    const place = { sheet: "Weeks kept", headingRow: 4, chartsFrom: null };
    expect(weeksSheet(report).charts?.(place)).toEqual([]);
    expect(weeksSheet(report).answer).toBe("");
  });

  it("are never all of them where one is missing", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (due) => {
        expect(roundedDown((due - 1) / due)).toBeLessThan(1);
        expect(roundedDown(due / due)).toBe(1);
      }),
    );
    expect([271 / 272, 0.29].map(roundedDown)).toEqual([0.996, 0.29]);
  });

  it("are those of a count device by device and day by day", () => {
    const kit = fc.record({
      commissioned: fc.option(fc.integer({ min: 0, max: 60 })),
      retired: fc.option(fc.integer({ min: 0, max: 60 })),
    });
    const check = fc.tuple(fc.nat(3), fc.nat(1), fc.integer({ min: -10, max: 60 }));
    const start = day("2026-05-01");
    const isoOf = (days: number | null): string | undefined =>
      days === null ? undefined : isoText((start + days) as Day);
    fc.assert(
      fc.property(
        fc.array(kit, { minLength: 4, maxLength: 4 }),
        fc.array(check, { maxLength: 60 }),
        fc.integer({ min: 0, max: 30 }),
        (kits, checks, length) => {
          const register = kits.map(({ commissioned, retired }, at): Kit => {
            const [from, end] = [isoOf(commissioned), isoOf(retired)];
            return {
              id: `A${at}`,
              site: `S0${at % 2}`,
              ...(from === undefined ? {} : { commissioned: from }),
              ...(end === undefined ? {} : { retired: end }),
            };
          });
          const jobs = checks.map(([device, part, days]) =>
            checkOf(`A${device}`, part === 0 ? "SET" : "Ear cushion", (start + days) as Day),
          );
          const to = (start + 20 + length) as Day;
          const report = reportOf(register, jobs, { from: start, to });
          expect(totals(report)).toEqual(counted(register, jobs, [start, to]));
        },
      ),
      { numRuns: 200 },
    );
  });
});

function totals({ inspections }: EvidenceReport): string[] {
  return inspections.siteWeeks
    .map(({ site, monday, due, kept }) => `${site} ${isoText(monday)} ${kept}/${due}`)
    .sort();
}

/** The same once more, the slow way: every day of every week asked whether the device served. */
function counted(kits: readonly Kit[], jobs: readonly Job[], [from, to]: [Day, Day]): string[] {
  const sums = new Map<string, [number, number]>();
  for (let monday = from; monday + 6 <= to; monday = (monday + 1) as Day) {
    // 1900-01-01 was serial 2 and a Monday.
    if ((monday - 2) % 7 !== 0 || monday + 6 >= REPORT_DATE) continue;
    const week = [0, 1, 2, 3, 4, 5, 6].map((days) => (monday + days) as Day);
    for (const { id, site = "", commissioned, retired } of kits) {
      const worked = jobs.flatMap((job) =>
        job.device === id && job.date !== null && job.date <= REPORT_DATE ? isoText(job.date) : [],
      );
      // A day that the log or another day contradicts is none.
      const came = worked.some((date) => commissioned !== undefined && date < commissioned)
        ? undefined
        : commissioned;
      const left =
        retired === undefined ||
        retired < (commissioned ?? "") ||
        worked.some((date) => date > retired)
          ? undefined
          : retired;
      const serves = week.every(
        (date) =>
          (came === undefined || isoText(date) >= came) &&
          (left === undefined || isoText(date) < left),
      );
      if (!serves) continue;
      const key = `${site} ${isoText(monday)}`;
      const sum = sums.get(key) ?? [0, 0];
      for (const names of [["SET"], ["Ear cushion"]]) {
        const days = week.filter((date) =>
          jobs.some((job) => job.device === id && names.includes(job.part) && job.date === date),
        );
        sum[0] += days.length > 2 ? 2 : days.length;
        sum[1] += 2;
      }
      sums.set(key, sum);
    }
  }
  return [...sums].map(([key, [kept, due]]) => `${key} ${kept}/${due}`).sort();
}

describe("replacements on time", () => {
  const kits = [{ id: "A1", set: "2026-06-10" }];
  const before = jobOf("A1", "SET", "2026-03-10");

  it.each([
    ["2026-06-10", 0],
    ["2026-06-11", 1],
    ["2026-06-30", 20],
  ])("judge one of %s by the replacement before and the shortest interval", (date, daysLate) => {
    const { onTime } = reportOf(kits, [jobOf("A1", "SET", date), before]);
    expect(onTime.turns).toMatchObject([
      { began: day("2026-03-10"), due: day("2026-06-10"), done: day(date), daysLate },
    ]);
    expect(onTime.unjudged).toBe(0);
  });

  it("count what is overdue and not done as missing", () => {
    const { onTime, measures } = reportOf(kits, [before]);
    expect(onTime.turns).toMatchObject([{ done: null, daysLate: 20, due: day("2026-06-10") }]);
    expect(
      measures.find(({ name, site }) => name === "Replaced on time" && site === "S01"),
    ).toMatchObject({ due: 1, done: 0, missing: "A1 SET (not done)" });
  });

  it("go by the register where the log has nothing", () => {
    const { onTime } = reportOf([{ id: "A1", set: "2026-03-10" }], []);
    expect(onTime.turns).toMatchObject([{ began: day("2026-03-10"), done: null }]);
    expect(reportOf([{ id: "A1", set: "2026-03-30" }], []).onTime.turns).toEqual([]);
  });

  it("take two of a day as one, no part of a set, and do not judge a first one", () => {
    const part = jobOf("A1", "SET", "2026-06-05", { complete: null });
    expect(reportOf(kits, [before, part]).onTime.turns).toMatchObject([{ done: null }]);
    const first = reportOf([{ id: "A1", set: "2026-06-10" }], [jobOf("A1", "SET", "2026-06-10")]);
    expect(first.onTime).toMatchObject({ turns: [], unjudged: 1 });
    const twice = [before, jobOf("A1", "SET", "2026-06-09"), jobOf("a1", "SET", "2026-06-09")];
    expect(reportOf(kits, twice).onTime.turns).toHaveLength(1);
    expect(first.leftOut).toEqual([
      "Ear cushion of A1: no date that can be trusted",
      "1 first replacement, with none logged before",
    ]);
  });

  it("keep the reason that was typed, whatever else is written anew", () => {
    const { snapshot, reading } = programme(kits, { jobs: [before] });
    const report = evidenceReport(snapshot, reading, USUAL);
    const made = onPaper(snapshot, {
      summary: "",
      edits: resultEdits(snapshot, lateSheet(report, snapshot)),
    });
    const sheets = made.sheets.map((sheet) =>
      sheet.name !== "Late work"
        ? sheet
        : {
            ...sheet,
            values: sheet.values.map((row, at) =>
              at === headingRow(sheet) + 1 ? [...row.slice(0, 8), "=no spare"] : row,
            ),
          },
    );
    const late = jobOf("A1", "SET", "2026-06-25");
    const other = programme([{ id: "A1", set: "2026-06-25" }], { jobs: [before, late] });
    const later = evidenceReport(other.snapshot, other.reading, USUAL);
    const typed = { ...made, sheets };
    const edits = resultEdits(typed, lateSheet(later, typed));
    const after = onPaper(typed, { summary: "", edits });
    const shown = after.sheets.find(({ name }) => name === "Late work");
    const row = shown?.values[headingRow(shown) + 1];
    expect(row?.slice(5)).toEqual([day("2026-06-25"), 15, null, "=no spare"]);
  });
});

describe("findings and lots", () => {
  const found = (date: string, more: Partial<Job> = {}): Job =>
    checkOf("A1", "SET", day(date), { finding: "residue", ...more });

  it.each([
    ["the same day", "2026-06-02", day("2026-06-02"), 0],
    ["later", "2026-06-12", day("2026-06-12"), 10],
    ["before", "2026-06-01", null, null],
  ])("are closed by a complete replacement %s or not", (_, date, closed, days) => {
    const { findings } = reportOf([{ id: "A1" }], [found("2026-06-02"), jobOf("A1", "SET", date)]);
    expect(findings).toMatchObject([{ found: day("2026-06-02"), closed, days }]);
  });

  it("stay open with a part of a set, without a day, and when the day lies before the period", () => {
    const jobs = [
      found("2026-06-02"),
      jobOf("A1", "SET", "2026-06-03", { complete: false }),
      found("2025-01-02", { finding: "crack" }),
      { ...found("2026-01-01", { finding: "hardened" }), date: null },
      found("2026-06-04", { finding: "other" }),
    ];
    const { findings } = reportOf([{ id: "A1" }], jobs);
    expect(findings.map(({ finding, closed }) => [finding, closed])).toEqual([
      ["hardened", null],
      ["crack", null],
      ["residue", null],
    ]);
  });

  it("of no named part are closed when every wearing part was replaced", () => {
    const unnamed = found("2026-06-02", { part: "" });
    const set = jobOf("A1", "SET", "2026-06-03");
    const cushion = jobOf("A1", "CUSHION", "2026-06-05");
    expect(reportOf([{ id: "A1" }], [unnamed, set]).findings[0]?.closed).toBeNull();
    expect(reportOf([{ id: "A1" }], [unnamed, set, cushion]).findings[0]).toMatchObject({
      part: null,
      closed: day("2026-06-05"),
    });
  });

  it("say that a device was withdrawn, has left, or that the register holds them", () => {
    const away = checkOf("A1", "", day("2026-06-03"), { job: "withdrawn", finding: "" });
    const back = checkOf("A1", "", day("2026-06-04"), { job: "returned", finding: "" });
    const how = (kit: Partial<Kit>, jobs: readonly Job[]): (string | undefined)[] =>
      reportOf([{ id: "A1", ...kit }], jobs).findings.map((one) => one.how);
    expect(how({}, [found("2026-06-02"), away])).toEqual(["open; device withdrawn on 2026-06-03"]);
    expect(how({}, [found("2026-06-02"), away, back])).toEqual(["open"]);
    expect(how({ retired: "2026-06-20" }, [found("2026-06-02")])).toEqual(["device retired"]);
    expect(how({ finding: "Hairline crack" }, [])).toEqual(["open; still in the register"]);
  });

  it("are given with their expiry; unknown ones stand first", () => {
    const shelf = {
      ...{ sheet: "Shelf", row: 3, part: "Electrode set", site: "S01", onHand: 1, onOrder: null },
      ...{ countedOn: null, expectedOn: null, lot: " l7", expiry: day("2026-05-01") },
    };
    const jobs = [
      jobOf("A1", "SET", "2026-06-02", { lot: "L7" }),
      jobOf("A1", "CUSHION", "2026-06-02", { lot: "L7" }),
      jobOf("A2", "SET", "2026-06-02"),
    ];
    const { snapshot, reading } = programme([{ id: "A1" }, { id: "A2" }], {
      jobs,
      shelf: [shelf, { ...shelf, part: "CUSHION", expiry: day("2026-06-02") }],
    });
    const { lots, measures } = evidenceReport(snapshot, reading, USUAL);
    expect(lots.map(({ device, part, gap }) => [device, part.code, gap])).toEqual([
      ["A1", "SET", "fitted after its expiry"],
      ["A2", "SET", "lot not recorded"],
      ["A2", "CUSHION", "no complete replacement logged"],
      ["A1", "CUSHION", ""],
    ]);
    expect(measures.find(({ name }) => name === "Lots known")).toMatchObject({ due: 4, done: 2 });
  });

  it("do not come from rows that name no device; a day to come is none, and leaves a finding open", () => {
    const jobs = [found("2026-06-02", { device: "Z9" }), found("2026-07-02")];
    const { snapshot, reading } = programme([{ id: "A1" }], { jobs });
    const { devices } = servingFleet(snapshot, reading, []);
    const period = evidencePeriod(REPORT_DATE, null, null);
    const basis = { devices, log: jobIndex(reading.ours), period };
    const { leftOut } = evidenceReport(snapshot, reading, USUAL);
    expect(leftOut).toContain("2 rows of the Job log without a known day, device or part");
    const open = { device: "A1", found: null, finding: "residue", closed: null };
    expect(findingRecords(snapshot, reading, basis)).toMatchObject([open]);
    expect(inspectionCompliance({ ...basis, parts: DEFAULT_PARTS }).weeks).toHaveLength(13);
  });
});
