import { describe, expect, it } from "vitest";
import { mendingOf } from "../../../../src/book/day/mend.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { JOB_LOG } from "../../../../src/book/sheets/job-log.ts";
import type { Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { isoText } from "../../../../src/core/day.ts";
import { bookOf, on, REPORT_DATE, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

// A log written day first and pasted into a spreadsheet set to month first: 6 March became 3 June, and days above 12
// stayed texts (common practice, no source).
const TEXTS = ["23/03/2026", "14/04/2026", "25/05/2026"];
const WRITTEN: Typed[] = [on("2026-06-03"), ...TEXTS];

interface Scene {
  readonly dates?: readonly Typed[];
  readonly register?: Typed;
  readonly status?: Typed;
  readonly job?: string;
  readonly finding?: string;
}

function book({ dates = WRITTEN, register, status, job = "replaced", finding }: Scene): Snapshot {
  const headings = JOB_LOG.columns.map(({ heading }) => heading);
  const jobs = dates.map((date, at): Typed[] => [
    ...[date, `V-${at + 1}`, "SET", at === 0 ? job : "inspected"],
    ...[at === 0 ? (finding ?? null) : null, job === "replaced" ? "yes" : null],
  ]);
  const devices = dates.map((_, at): Typed[] => [
    `V-${at + 1}`,
    "North",
    ...(status === undefined ? [] : [at === 0 ? status : "in use"]),
    ...(register === undefined ? [] : [at === 0 ? register : on("2026-05-18")]),
  ]);
  const titles = [
    ...["Device", "Site"],
    ...(status === undefined ? [] : ["Status"]),
    ...(register === undefined ? [] : ["Electrode set replaced"]),
  ];
  return bookOf([
    sheetOf("Kit", [titles, ...devices]),
    sheetOf("Job log", [[JOB_LOG.title], [], headings, ...jobs]),
  ]);
}

const read = (scene: Scene): Reading => readWorkbook(book(scene), REPORT_DATE);
const lastSet = ({ devices }: Reading): string | null => {
  const date = devices[0]?.lastDone.find(({ part }) => part === "SET")?.date ?? null;
  return date === null ? null : isoText(date);
};

describe("day and month swapped by the spreadsheet in the Job log", () => {
  it("are told with both readings, and the job counts for no day", () => {
    const reading = read({});
    expect(told(reading)).toContain("day and month swapped A4");
    const problem = reading.problems.find(({ kind }) => kind === "day and month swapped");
    expect(problem?.sheet).toBe("Job log");
    expect(problem?.cause).toContain("2026-06-03 may be 2026-03-06");
    expect(lastSet(reading)).toBeNull();
    expect(doubtsSay(reading).join(" ")).toContain("Job log!A4 (Date)");
  });

  it("are not seen beside days that are no months", () => {
    const reading = read({ dates: [on("2026-06-03"), on("2026-03-23"), ...TEXTS] });
    expect(told(reading).filter((one) => one.startsWith("day and month"))).toEqual([]);
    expect(lastSet(reading)).toBe("2026-06-03");
  });

  it.each([
    ["2026-06-03", ["date disagrees D2"]],
    ["2026-05-18", ["date disagrees D2"]],
    // The earlier of the two days: the log can only confirm it or be later.
    ["2026-03-06", []],
  ])("leave the register's own %s in doubt unless it is the earlier day", (date, expected) => {
    const reading = read({ register: on(date), status: "in use" });
    expect(told(reading).filter((one) => one.startsWith("date disagrees"))).toEqual(expected);
  });

  it("keep what was found open, and a retired device in service while it may be in use", () => {
    const found = read({ job: "inspected", finding: "crack" });
    expect(found.ours.jobs[0]?.date).toBeNull();
    // Used on 3 June or on 6 March: at the end of June the later one says that it is in use.
    const retired = read({ job: "inspected", status: "retired" });
    expect(retired.devices[0]).toMatchObject({ retired: false, doubt: "retired but in use" });
  });

  it("are mended with the texts of their column once a person says that they are", () => {
    const snapshot = book({});
    const mended = (allowed = {}): string[] =>
      mendingOf(snapshot, readWorkbook(snapshot, REPORT_DATE), allowed).cells.map(({ to }) => to);
    expect(mended()).toEqual([]);
    expect(mended({ swapped: true })).toEqual([
      "2026-03-06",
      "2026-03-23",
      "2026-04-14",
      "2026-05-25",
    ]);
  });
});
