import { describe, expect, it } from "vitest";
import { DATE_SYSTEM_SHIFT, type Day, day, isoText } from "../../../src/core/day.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";
import { listed, oneForACell } from "../../../src/book/records/problems.ts";
import type { Job, Ours, Problem, Reading, Site } from "../../../src/book/records/records.ts";
import { bareSite } from "../../../src/book/sheets/sites.ts";
import { JOB_LOG } from "../../../src/book/sheets/job-log.ts";
import { cellKey, type Sheet } from "../../../src/book/workbook/snapshot.ts";
import {
  jobOf,
  on,
  oursOf,
  readSheets,
  REPORT_DATE,
  sheetOf,
  told,
  type Typed,
} from "../../scenes/scene.ts";

const SET_NAME = DEFAULT_PARTS[0]?.name ?? "";
const HEADINGS = ["Device", "Site", "Commissioned", "Status", "Electrode set replaced"];
const FINE: Typed[] = ["VR-09", "S01", on("2024-01-10"), "In service", on("2026-05-04")];

/** A register of one device with this date, and one that is in order. */
function withDate(
  value: Typed,
  ours: Ours = oursOf(),
  commissioned: Typed = on("2024-01-10"),
): Reading {
  const row = ["VR-01", "S01", commissioned, "In service", value];
  return readSheets([sheetOf("Equipment", [HEADINGS, row, FINE])], ours);
}

const withJobs = (...jobs: readonly Job[]): Ours => oursOf({}, { jobs });
const first = ({ problems }: Reading): Partial<Problem> | undefined => problems[0];

describe("the date a part was last replaced", () => {
  it("is fine when it is a date between commissioning and the report date", () => {
    expect(withDate(on("2026-05-04")).problems).toEqual([]);
    expect(withDate(on("2024-01-10")).problems).toEqual([]);
    expect(withDate(REPORT_DATE).problems).toEqual([]);
  });

  it("is told in words, with its place, its cause and what to do", () => {
    expect(withDate("2026-04-12").problems).toEqual([
      {
        kind: "text date",
        sheet: "Equipment",
        row: 1,
        column: 4,
        heading: "Electrode set replaced",
        cause: '"2026-04-12" is text, not a date.',
        fix: "Type 2026-04-12 as a date.",
        severity: "fault",
        mend: { value: day("2026-04-12"), isDate: true },
      },
    ]);
  });

  it.each([
    [
      "12/04/2026",
      "It may be 2026-04-12 or 2026-12-04: state in Setup whether the day or the month comes first, then type it as a date.",
    ],
    ["13/04/2026", "Type 2026-04-13 as a date."],
    [
      "Apr 2026",
      "Type the day as well; where nobody knows it 2026-04-01, the first of the month: a later day would lengthen the interval.",
    ],
    ["spring", "Type it as a date (year-month-day), or clear the cell."],
    ["31/04/2026", "Type it as a date (year-month-day), or clear the cell."],
  ])("as the text %s is never used", (text, fix) => {
    const reading = withDate(text);
    expect(first(reading)).toMatchObject({ kind: "text date", fix });
    expect(reading.devices[0]?.lastDone[0]).toEqual({ part: "SET", column: 4, date: null });
  });

  it("as text is read in the order that somebody stated", () => {
    const fix = "Type 2026-12-04 as a date.";
    expect(first(withDate("12/04/2026", oursOf({ dayOrder: "mdy" })))).toMatchObject({ fix });
  });

  it("as text in a column of mixed orders is asked about cell by cell", () => {
    const rows = ["13/04/2026", "04/14/2026", "04/05/2026"].map((text, at): Typed[] => [
      `VR-0${at}`,
      "S01",
      null,
      "",
      text,
    ]);
    const { problems } = readSheets([sheetOf("Equipment", [HEADINGS, ...rows])]);
    expect(problems.map(({ fix }) => fix)).toEqual([
      "The column mixes two orders of day and month: type 2026-04-13 as a date after checking.",
      "The column mixes two orders of day and month: type 2026-04-14 as a date after checking.",
      "The column mixes two orders of day and month: type 2026-05-04 or 2026-04-05 as a date after checking.",
    ]);
  });

  it.each([
    [null, "no date", `There is no date for ${SET_NAME}.`],
    ["  ", "no date", `There is no date for ${SET_NAME}.`],
    [on("2026-07-01"), "future date", "2026-07-01 is after the report date 2026-06-30."],
    [
      on("2006-06-29"),
      "date out of range",
      "2006-06-29 is more than 20 years before the report date.",
    ],
    [2026, "date out of range", "1905-07-18 is more than 20 years before the report date."],
    [-4, "date out of range", "-4 is a number that is not a date."],
    [
      on("2024-01-09"),
      "before commissioning",
      "2024-01-09 is before the device was commissioned on 2024-01-10.",
    ],
    [{ error: "#REF!" }, "cell error", "The cell shows #REF!."],
    [true, "text date", '"true" is text, not a date.'],
  ])("of %j is told as %s", (value, kind, cause) => {
    expect(withDate(value).problems).toMatchObject([{ kind, cause, row: 1, column: 4 }]);
  });

  it("hints at swapped numbers in a future date", () => {
    expect(first(withDate(on("2026-12-04")))).toMatchObject({
      kind: "future date",
      fix: "Correct the date, or the report date. With day and month swapped it would be 2026-04-12.",
    });
  });

  it("of a retired device is nobody's concern", () => {
    const rows = [null, "12/04/2026", on("2027-01-01"), { error: "#N/A" }].map(
      (value, at): Typed[] => [`VR-0${at}`, "S01", "last year", "Retired", value],
    );
    expect(readSheets([sheetOf("Equipment", [HEADINGS, ...rows])]).problems).toEqual([]);
  });
});

describe("the register beside the Job log", () => {
  const job = jobOf("VR-01", "SET", "2026-04-12");

  it("agrees", () => {
    expect(withDate(on("2026-04-12"), withJobs(job)).problems).toEqual([]);
  });

  it.each([
    ["swapped, although in the future", on("2026-12-04"), "day and month swapped"],
    ["another date", on("2026-04-13"), "date disagrees"],
    ["four years and a day early", on("2022-04-11"), "1,462-day shift"],
    ["four years and a day late", on("2030-04-13"), "1,462-day shift"],
    ["missing", null, "no date"],
  ])("%s", (_, value, kind) => {
    const reading = withDate(value, withJobs(job), null);
    expect(reading.problems).toMatchObject([{ kind }]);
    if (value !== null) expect(reading.problems[0]?.cause).toContain("2026-04-12");
    else expect(reading.problems[0]?.fix).toContain("2026-04-12");
  });

  it("is held against the latest complete replacement by the report date", () => {
    const jobs = [
      jobOf("vr-01 ", SET_NAME.toUpperCase(), "2026-04-12"),
      jobOf("VR-01", "SET", "2026-02-01"),
      jobOf("VR-01", "SET", "2026-06-01", { complete: false }),
      jobOf("VR-01", "SET", "2026-06-02", { complete: null }),
      jobOf("VR-01", "SET", "2026-06-03", { job: "inspected" }),
      jobOf("VR-01", "SET", "2026-07-03"),
      jobOf("VR-01", "CUSHION", "2026-06-04"),
      jobOf("VR-09", "CUSHION", "2026-06-05"),
    ];
    const reading = withDate(on("2026-04-12"), withJobs(...jobs));
    expect(told(reading)).toEqual(["partial set *4", "partial set *4", "future date *4"]);
  });

  it("gives the date when the register has no column for it", () => {
    const jobs = [
      jobOf("VR-01", "CUSHION", "2026-04-12"),
      jobOf("VR-01", "CUSHION", "2026-05-12", { complete: null }),
      jobOf("VR-01", "CALIBRATION", "2026-03-12", { job: "calibrated", complete: null }),
    ];
    const { devices } = withDate(on("2026-05-04"), withJobs(...jobs));
    expect(devices[0]?.lastDone).toEqual([
      { part: "SET", column: 4, date: day("2026-05-04") },
      { part: "CUSHION", column: null, date: day("2026-04-12") },
      { part: "CALIBRATION", column: null, date: day("2026-03-12") },
    ]);
    expect(devices[1]?.lastDone[1]).toEqual({ part: "CUSHION", column: null, date: null });
  });

  it("names parts and devices nobody knows, and jobs without a date, at their cells", () => {
    const jobs = [
      jobOf("VR-77", "SET", "2026-04-12", { row: 3 }),
      jobOf("VR-01", "Strap", "2026-04-12", { row: 4 }),
      jobOf("VR-01", "SET", "2026-04-12", { row: 5, date: null }),
      jobOf("VR-01", "SET", "2026-04-12", { row: 6, complete: null }),
    ];
    const log = sheetOf("Job log", [
      ["Job log"],
      [],
      JOB_LOG.columns.map(({ heading }) => heading),
    ]);
    const register = sheetOf("Equipment", [HEADINGS, ["VR-01", ...FINE.slice(1)]]);
    expect(told(readSheets([register, log], withJobs(...jobs)))).toEqual([
      "unknown device B4",
      "unknown part C5",
      "no date A6",
      "partial set F7",
    ]);
  });
});

describe("a whole column shifted by 1,462 days", () => {
  const DAYS = ["2026-05-04", "2026-05-11", "2026-04-12", "2026-06-01", "2026-03-30", "2026-05-29"];
  const shifted = (
    by: number,
    days: readonly string[] = DAYS,
    commissioned: Typed = null,
  ): Reading => {
    const rows = days.map((text, at): Typed[] => [
      `VR-0${at}`,
      "S01",
      commissioned,
      "In service",
      on(isoText((day(text) + by) as Day)),
    ]);
    return readSheets([sheetOf("Equipment", [HEADINGS, ...rows])]);
  };

  it.each([
    [-DATE_SYSTEM_SHIFT, null],
    [-DATE_SYSTEM_SHIFT, on("2024-01-10")],
    [DATE_SYSTEM_SHIFT, null],
  ])("%i is told once and not used", (by, commissioned) => {
    const reading = shifted(by, DAYS, commissioned);
    expect(told(reading)).toEqual(["1,462-day shift E*"]);
    expect(reading.devices.every(({ lastDone }) => lastDone[0]?.date === null)).toBe(true);
  });

  it("is not seen in dates that are only a year old, or in a few dates", () => {
    expect(told(shifted(-365))).toEqual([]);
    expect(told(shifted(-1000))).toEqual([]);
    expect(told(shifted(-DATE_SYSTEM_SHIFT, DAYS.slice(0, 4)))).toEqual([]);
  });
});

describe("identifiers", () => {
  const ids = (values: readonly Typed[]): string[] => {
    const rows = values.map((id): Typed[] => [id, ...FINE.slice(1)]);
    return told(readSheets([sheetOf("Equipment", [HEADINGS, ...rows])]));
  };

  it.each([
    ["twice", ["VR-01", "VR-02", "vr-01"], ["duplicate device A2", "duplicate device A4"]],
    [
      "three times",
      ["VR-01", "VR-01", "VR-01"],
      ["duplicate device A2", "duplicate device A3", "duplicate device A4"],
    ],
    ["spaces around", ["VR-01 "], ["stray spaces A2"]],
    ["no-break space before", ["\u00a0VR-01"], ["stray spaces A2"]],
    [
      "no-break space inside",
      ["VR\u00a001", "VR 01"],
      ["stray spaces A2", "duplicate device *2", "duplicate device A3"],
    ],
    [
      "spaces and twice, each told on its own row",
      ["VR-01", "VR-01\u00a0"],
      ["stray spaces A3", "duplicate device A2", "duplicate device *3"],
    ],
    ["a plain space inside", ["VR 01"], []],
    ["a true date", [on("2012-03-01"), "VR-02"], ["date-like device A2"]],
    [
      "numbers like a date",
      ["3-12", "03/12", "12-3-26"],
      ["date-like device A2", "date-like device A3", "date-like device A4"],
    ],
    [
      "month and number",
      ["Mar-12", "12-Mar", "MARCH1", "1sep"],
      ["date-like device A2", "date-like device A3", "date-like device A4", "date-like device A5"],
    ],
    [
      "no date at all",
      ["MAR-X", "Marsh-12", "S01-3", "20260412", 20260413, "3-120", "1-2-3-4", "DECK-1"],
      [],
    ],
  ])("%s", (_, values, problems) => {
    expect(ids(values)).toEqual(problems);
  });

  it("missing beside other entries are told, and the row stays where a date says that it is in use", () => {
    const reading = readSheets([sheetOf("Equipment", [HEADINGS, FINE, [null, ...FINE.slice(1)]])]);
    expect(told(reading)).toEqual(["device missing A3"]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["VR-09", "row 3"]);
    const undated = FINE.map((cell) => (typeof cell === "string" ? cell : null));
    const left = readSheets([sheetOf("Equipment", [HEADINGS, FINE, [null, ...undated.slice(1)]])]);
    expect(told(left)).toEqual(["device missing A3"]);
    expect(left.devices).toHaveLength(1);
  });
});

describe("sites", () => {
  const SITES: readonly Site[] = [
    { ...bareSite("S01"), name: "Northfield", earlierNames: ["Old North"] },
    { ...bareSite("S02"), name: "Southfield" },
  ];
  const at = (site: Typed, sites: readonly Site[] = SITES): Reading =>
    readSheets(
      [sheetOf("Equipment", [HEADINGS, ["VR-01", site, ...FINE.slice(2)]])],
      oursOf({}, { sites }),
    );

  it("are known by code or name, whatever the case", () => {
    for (const site of ["S01", "s02", "NORTHFIELD", " S01 ", "S01\u00a0", null]) {
      expect(at(site).problems).toEqual([]);
    }
    expect(at("Anything", []).problems).toEqual([]);
  });

  it("are told when unknown or under an earlier name", () => {
    expect(at("Westfield").problems).toMatchObject([
      { kind: "unknown site", column: 1, cause: '"Westfield" is not on the Sites sheet.' },
    ]);
    expect(at("old north").problems).toMatchObject([
      { kind: "earlier site name", column: 1, fix: "Write S01." },
    ]);
  });
});

describe("formulas and cell errors", () => {
  const HEAD = [...HEADINGS, "Years", "Uses per month"];
  const sheet = (bare: readonly number[], count = 10): Sheet => {
    const rows = Array.from({ length: count }, (_, at): Typed[] => [
      `VR-0${at}`,
      ...FINE.slice(1),
      2,
      20,
    ]);
    const formulas = new Map<number, string>();
    for (let row = 1; row <= count; row += 1) {
      if (!bare.includes(row)) formulas.set(cellKey(row, 5), "YEAR(A1)");
    }
    return sheetOf("Equipment", [HEAD, ...rows], { formulas });
  };

  it.each([
    ["all formulas", sheet([]), []],
    ["two typed over", sheet([3, 7]), ["overwritten formula F4", "overwritten formula F8"]],
    ["too many typed over", sheet([3, 4, 7]), []],
    ["too few formulas", sheet([1], 5), []],
  ])("%s", (_, given, problems) => {
    expect(told(readSheets([given]))).toEqual(problems);
  });

  it("in the columns that are used are told", () => {
    const rows: Typed[][] = [
      HEAD,
      [
        "VR-01",
        { error: "#N/A" },
        on("2024-01-10"),
        "",
        on("2026-05-04"),
        { error: "#REF!" },
        "20",
      ],
      ["VR-02", "S01", { error: "#REF!" }, "", on("2026-05-04"), 2, -1],
      ["VR-03", "S01", "2024", "", on("2026-05-04"), 2, 20.5],
    ];
    expect(told(readSheets([sheetOf("Equipment", rows)]))).toEqual([
      "cell error C3",
      "text date C4",
      "cell error B2",
      "text count G2",
      "count below zero G3",
    ]);
  });
});

describe("one problem for a cell", () => {
  const problem = (cause: string, row: number | null, column: number | null): Problem => ({
    kind: "no date",
    sheet: "S",
    row,
    column,
    heading: "",
    cause,
    fix: "",
    severity: "fault",
  });

  it("keeps the first told, and everything about whole rows and columns", () => {
    const given = [
      problem("one", 1, 1),
      problem("two", 1, 1),
      problem("three", 1, null),
      problem("four", 1, null),
      problem("five", null, 1),
      { ...problem("six", 1, 1), sheet: "T" },
    ];
    expect(oneForACell(given).map(({ cause }) => cause)).toEqual([
      "one",
      "three",
      "four",
      "five",
      "six",
    ]);
  });

  it("lists a few names and counts the rest", () => {
    expect(listed([])).toBe("");
    expect(listed(["a"])).toBe("a");
    expect(listed(["a", "b"])).toBe("a and b");
    expect(listed(["a", "b", "c"])).toBe("a, b and c");
    expect(listed(["a", "b", "c", "d", "e"])).toBe("a, b, c and 2 more");
  });
});
