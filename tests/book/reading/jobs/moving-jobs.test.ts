import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { JOB_LOG } from "../../../../src/book/sheets/job-log.ts";
import { cellKey } from "../../../../src/book/workbook/snapshot.ts";
import { day } from "../../../../src/core/day.ts";
import { bookOf, on, oursOf, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const KIT = sheetOf("Kit", [
  ["Device", "Site", "Model"],
  ...["HS-1", "HS-2", "HS-3", "HS-4"].map((id): Typed[] => [id, "North", "M"]),
]);

const lastSet = ({ devices }: Reading): (number | null | undefined)[] =>
  devices
    .slice(0, 2)
    .map(({ lastDone }) => lastDone.find(({ part }) => part === "SET")?.date ?? null);
const moving = ({ problems }: Reading) =>
  problems.filter(({ kind }) => kind === "moving date").map(({ sheet, row }) => [sheet, row]);

/** The Job log with two replacements, the first of them dated by a formula or typed. */
function withLog(formula: string | null): Reading {
  const headings = JOB_LOG.columns.map(({ heading }) => heading);
  const job = (device: string): Typed[] => [
    on("2026-06-30"),
    device,
    "SET",
    "replaced",
    null,
    "yes",
  ];
  const rows = [[JOB_LOG.title], [], headings, job("HS-1"), job("HS-2")];
  const formulas = new Map(formula === null ? [] : [[cellKey(3, 0), formula]]);
  return readWorkbook(bookOf([KIT, sheetOf("Job log", rows, { formulas })]), REPORT_DATE);
}

describe("a day of the Job log that a formula moves on by itself", () => {
  it.each(["TODAY()", "NOW()", "TODAY()-3", "A5+0*TODAY()"])(
    "=%s is told and is no day",
    (text) => {
      const reading = withLog(text);
      expect(lastSet(reading)).toEqual([null, REPORT_DATE]);
      expect(moving(reading)).toEqual([["Job log", 3]]);
      expect(doubtsSay(reading).join(" ")).toContain("Job log!A4 (Date)");
    },
  );

  it.each([null, "DATE(2026,6,30)", "A5"])("=%s is a day like any other", (text) => {
    const reading = withLog(text);
    expect(lastSet(reading)).toEqual([REPORT_DATE, REPORT_DATE]);
    expect(moving(reading)).toEqual([]);
  });
});

describe("a day of an own log that a formula moves on by itself", () => {
  const read = (formula: string | null): Reading => {
    const line = (device: string): Typed[] => [on("2026-06-30"), device, "new electrodes"];
    const rows = [["When", "Unit", "What was done"], ...["HS-1", "HS-2", "HS-3", "HS-4"].map(line)];
    const formulas = new Map(formula === null ? [] : [[cellKey(1, 0), formula]]);
    const matches = new Map([["own log", "Diary"]]);
    return readBook(bookOf([KIT, sheetOf("Diary", rows, { formulas })]), oursOf({ matches }));
  };

  it("is told and is no day of a job", () => {
    expect(lastSet(read(null))).toEqual([REPORT_DATE, REPORT_DATE]);
    const reading = read("TODAY()");
    expect(lastSet(reading)).toEqual([null, REPORT_DATE]);
    expect(moving(reading)).toEqual([["Diary", 1]]);
  });
});

describe("an own log of a part with positions", () => {
  const book = (...lines: readonly string[]) => {
    const headings = ["Device", "Left cushion replaced"];
    const devices = ["HS-1", "HS-2", "HS-3", "HS-4"];
    const kit = sheetOf("Kit", [headings, ...devices.map((id): Typed[] => [id, on("2026-01-12")])]);
    const rows = lines.map((text, at): Typed[] => [on("2026-06-02"), `HS-${at + 1}`, text]);
    return bookOf([kit, sheetOf("Diary", [["When", "Unit", "What was done"], ...rows])]);
  };
  const right = (...lines: readonly string[]) =>
    readBook(book(...lines), oursOf({ matches: new Map([["own log", "Diary"]]) })).devices.map(
      ({ lastDone }) => lastDone.find(({ part }) => part === "CUSHION right")?.date ?? null,
    );

  it("renews the side that it names, both where it says so, and none where it says neither", () => {
    const june = day("2026-06-02");
    expect(
      right(
        "right cushion replaced",
        "both cushions replaced",
        "cushion replaced",
        "left cushion replaced",
      ),
    ).toEqual([june, june, null, null]);
  });
});
