import { describe, expect, it } from "vitest";
import { dueEvents } from "../../src/book/day/calendar.ts";
import { logEntry } from "../../src/book/day/entry.ts";
import { roundsOf } from "../../src/book/day/rounds.ts";
import { todayOf } from "../../src/book/day/today.ts";
import { evidenceReport } from "../../src/book/evidence/report.ts";
import { traceDevice } from "../../src/book/evidence/trace.ts";
import { judge } from "../../src/book/columns/judge.ts";
import { deviceKey } from "../../src/book/records/device-key.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Part } from "../../src/book/records/records.ts";
import { JOB_LOG } from "../../src/book/sheets/job-log.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { NO_WHAT_IF } from "../../src/book/year/what-if.ts";
import { USUAL_YEAR, yearAhead } from "../../src/book/year/year.ts";
import { day } from "../../src/core/day.ts";
import { onPaper } from "../../taskpane/paper.ts";
import { bookOf, jobOf, on, oursOf, REPORT_DATE, readSheets, sheetOf } from "../scenes/scene.ts";

/** Every character that Unicode calls a space, a separator or a format mark, and those nobody sees. */
const UNSEEN = Array.from({ length: 0x110000 }, (_, code) => code)
  .filter((code) => code < 0xd800 || code > 0xdfff)
  .map((code) => String.fromCodePoint(code))
  .filter((sign) => /[\p{Z}\p{Cf}\p{Default_Ignorable_Code_Point}\t\n]/u.test(sign));
const SPACES = UNSEEN.filter((sign) => /[\p{Z}\t\n]/u.test(sign));
const MARKS = UNSEEN.filter((sign) => !SPACES.includes(sign));

/** One of all marks that no font shows: variation selectors and tags alone are thousands. */
const few = (signs: readonly string[]): readonly string[] =>
  signs.filter((sign, at) => at < 80 || at % 97 === 0 || /\p{Cf}/u.test(sign));

const SET = DEFAULT_PARTS[0] as Part;

/** A device, typed one way in the register and another way in the log and the counts. */
function typedTwoWays(register: string, elsewhere: string) {
  const jobs = [
    jobOf(elsewhere, "SET", "2026-06-02", { lot: "L7" }),
    jobOf(elsewhere, "SET", "2026-06-20", {
      job: "inspected",
      finding: "crack",
      complete: null,
    }),
  ];
  const sheets = [
    sheetOf("Equipment", [
      ["Device", "Site", "Electrode set last replaced"],
      [register, "S01", on("2026-06-02")],
      ["B-2", "S01", on("2026-06-02")],
    ]),
    sheetOf("Counts", [
      ["Device", on("2026-03-01"), on("2026-04-01"), on("2026-05-01")],
      [elsewhere, 20, 30, 40],
      ["B-2", 20, 30, 40],
    ]),
  ];
  const ours = oursOf({}, { jobs, parts: [{ ...SET, useBudget: 180 }] });
  return { snapshot: bookOf(sheets), reading: readSheets(sheets, ours), jobs };
}

describe("a device typed in two ways that look alike", () => {
  it("has one key, and another one than a device that looks different", () => {
    expect(UNSEEN.length).toBeGreaterThan(4000);
    for (const sign of SPACES) expect(deviceKey(` A${sign}${sign}1${sign}`)).toBe("a 1");
    for (const sign of MARKS) expect(deviceKey(`${sign}A-${sign}1`)).toBe("a-1");
    expect(deviceKey("e\u0301A")).toBe(deviceKey("\u00e9a"));
    expect(deviceKey("A 1")).not.toBe(deviceKey("A1"));
    expect(deviceKey("A-1")).not.toBe(deviceKey("A_1"));
  });

  it.each([
    ...SPACES.map((sign) => [`A${sign}1`, "A 1"] as const),
    ...few(MARKS).map((sign) => [`A${sign}-1`, "A-1"] as const),
    ["a-1", "A-1"] as const,
  ])("is one device in every job: %j and %j", (register, elsewhere) => {
    for (const [first, second] of [
      [register, elsewhere],
      [elsewhere, register],
    ] as const) {
      const { snapshot, reading } = typedTwoWays(first, second);
      expect(reading.problems.filter(({ kind }) => kind === "unknown device")).toEqual([]);
      const today = todayOf(snapshot, reading);
      expect(today.items.map(({ state, why }) => [state, why])).toEqual([
        ["Overdue", "out of use: crack"],
      ]);
      const [row, other] = judge(snapshot, reading).rows(reading.ours.parts[0] as Part);
      expect(row?.facts.uses).toBeGreaterThan(29);
      expect(row?.facts.uses).toBe(other?.facts.uses);
      expect(row?.answers.interval).toBe(other?.answers.interval);
      const report = evidenceReport(snapshot, reading, { from: null, to: null, sites: [] });
      expect(report.findings.map(({ how }) => how)).toEqual(["open"]);
      expect(report.lots.map(({ lot }) => lot).sort()).toEqual(["", "L7"]);
      expect(report.leftOut).toEqual(["1 first replacement, with none logged before"]);
      const rounds = roundsOf(snapshot, reading, { monday: day("2026-06-29"), sites: [] });
      expect(rounds.rounds[0]?.rows.map(({ state }) => state)).toContain("▲ Overdue");
      expect(dueEvents(snapshot, reading, [])[0]?.summary).toMatch(/^Overdue/);
      expect(traceDevice(reading, second)?.map(({ kind }) => kind)).toEqual(["fitted now"]);
      const year = yearAhead(snapshot, reading, { ...USUAL_YEAR, whatIf: NO_WHAT_IF });
      const doubts = year.parts[0]?.units.map(({ doubt }) => doubt);
      expect(doubts).toContain("finding crack: due at once");
    }
  });

  it("is found when a job is logged, whichever way it is typed", () => {
    const { snapshot, reading } = typedTwoWays("A\u00a0\u200b1", "A 1");
    const book = onPaper(snapshot, {
      summary: "a Job log",
      edits: makeSheet(JOB_LOG, JOB_LOG.name, []),
    });
    const entry = { date: REPORT_DATE, job: "inspected", finding: "clean", complete: false };
    const words = { lot: "", by: "RN", note: "", part: "SET" };
    const logged = logEntry(book, reading, {
      entry: { ...entry, ...words, device: "a\u2007 1\ufeff" },
      again: false,
    });
    expect(logged.device).toBe(reading.devices[0]);
  });
});
