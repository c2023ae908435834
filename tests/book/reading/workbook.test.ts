import { onlyRegister } from "../../scenes/scene.ts";
import { describe, expect, it } from "vitest";
import { countsUses } from "../../../src/book/reading/counts/count-units.ts";
import { undatedParts } from "../../../src/book/reading/unread/missing-columns.ts";
import { todayLines } from "../../../src/cli/report.ts";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import { refusals } from "../../../src/book/workbook/expect.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { type CellValue, type Sheet, type Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { todayOf } from "../../../src/book/day/today.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { day } from "../../../src/core/day.ts";
import { emptyPaper, onPaper, paperSheet } from "../../taskpane/paper.ts";

/** Books that would give a later date than is right if doubt were not taken seriously. */
const REPORT = day("2026-07-06");
const HEADINGS = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"];
const ROWS: readonly (readonly CellValue[])[] = [
  ["D-1", "S01", day("2026-05-04"), day("2026-05-04")],
  ["D-2", "S01", day("2026-06-01"), day("2026-06-01")],
];
const DATED = ["General", "yyyy-mm-dd"];

function register(headings: readonly CellValue[], rows: readonly (readonly CellValue[])[]): Sheet {
  const values = [headings, ...rows];
  const formats = values.map((row, at) =>
    row.map((value) => (at > 0 && typeof value === "number" && value > 40000 ? 1 : 0)),
  );
  return { ...paperSheet("Equipment", values), formats };
}

function bookOf(...sheets: Sheet[]): Snapshot {
  return { ...emptyPaper(), formats: DATED, sheets };
}

const MONTHS = ["2026-04-01", "2026-05-01", "2026-06-01"].map(day);

function counts(name: string, perMonth: number): Sheet {
  const values = [
    ["Device", ...MONTHS],
    ...["D-1", "D-2"].map((id) => [id, ...MONTHS.map(() => perMonth)]),
  ];
  return {
    ...paperSheet(name, values),
    formats: [values[0]?.map((_, at) => (at > 0 ? 1 : 0)) ?? []],
  };
}

const read = (book: Snapshot): Reading => readWorkbook(book, REPORT, { reportDate: REPORT });

/** The book with its columns, and with cells of our sheets changed afterwards. */
function adopted(book: Snapshot, change: Plan["edits"] = []): Snapshot {
  const request = { mode: "portable", today: REPORT, force: false } as const;
  const once = onPaper(book, columnsPlan(book, read(book), request));
  return onPaper(once, { summary: "a person's change", edits: change });
}

function filled(
  sheet: string,
  column: number,
  row: number,
  value: CellValue,
): Plan["edits"][number] {
  return {
    kind: "fillCells",
    sheet,
    blocks: [{ column, rows: [row], values: [value] }],
    expects: {},
  };
}

const states = (book: Snapshot): string[] =>
  todayOf(book, read(book)).items.map(({ device, part, state }) => `${device} ${part} ${state}`);
const kinds = (book: Snapshot): string[] => read(book).problems.map(({ kind }) => kind);

/** Where our own column of the cushions stands. */
function columnOf({ sheets }: Snapshot): number {
  return sheets[0]?.values[0]?.indexOf("Ear cushion: last replaced") ?? -1;
}

const LOG_ROW = 3;
function logged(book: Snapshot, ...values: CellValue[]): Snapshot {
  const edits = values.map((value, column) => filled("Job log", column, LOG_ROW, value));
  return adopted(book, edits);
}

describe("a workbook in doubt", () => {
  const book = bookOf(register(HEADINGS, ROWS));

  it("takes counts that speak of babies for babies, and says so", () => {
    const babies = bookOf(register(HEADINGS, ROWS), counts("Babies per month", 30));
    const sessions = bookOf(register(HEADINGS, ROWS), counts("Sessions per month", 30));
    expect(kinds(babies)).toContain("counts are babies");
    expect(read(babies).ours.settings.countsBabies).toBe(true);
    expect(kinds(sessions)).toEqual([]);
    expect(read(sessions).ours.settings.countsBabies).toBe(false);
  });

  it("does not take uses a day or babies a month for uses a month", () => {
    for (const heading of ["Uses per day", "Average babies screened monthly"]) {
      const own = bookOf(
        register(
          [...HEADINGS, heading],
          ROWS.map((row) => [...row, 8]),
        ),
      );
      const matched = onlyRegister(read(own)).matches.some(({ field }) => field === "uses");
      expect(kinds(own).includes("no uses a month")).toBe(matched);
    }
  });

  /** Phrases of the languages' own authors: common usage, no source. */
  it.each([
    ...[
      "Uses",
      "Sessions",
      "Screens",
      "Usage",
      "Tests per day",
      "Screens/day",
      "Utilisation %",
      "Failed tests per month",
    ],
    ...[
      "Nutzungen",
      "Nutzungen pro Tag",
      "Examens",
      "Pruebas al día",
      "Esami",
      "Usos",
      "Metingen",
      "Badania",
    ],
  ])("takes no uses a month from %s unless a person says so, and tells it", (heading) => {
    const usesBy = (title: string, chosen: boolean) => {
      const own = bookOf(
        register(
          [...HEADINGS, title],
          ROWS.map((row) => [...row, 8]),
        ),
      );
      const matches = chosen ? new Map([["column uses", title]]) : new Map<string, string>();
      const reading = readWorkbook(own, REPORT, { reportDate: REPORT, matches });
      const one = onlyRegister(reading).matches.find(({ field }) => field === "uses");
      const told = reading.problems.some(({ kind }) => kind === "no uses a month");
      return [one !== undefined && countsUses(one), told];
    };
    expect(usesBy(heading, false)).toEqual([false, true]);
    const isOther = /[/%]|day|Tag|día|Failed/u.test(heading);
    expect(usesBy(heading, true)).toEqual([!isOther, isOther]);
  });
  it.each([
    "Uses per month",
    "Monthly sessions",
    "Average uses (month)",
    "Nutzungen pro Monat",
    "Examens par mois",
  ])("takes uses a month from %s", (heading) => {
    expect(countsUses({ heading, by: "heading" })).toBe(true);
  });

  it("tells of a part whose column was not understood", () => {
    const one = bookOf(
      register(
        HEADINGS.slice(0, 3),
        ROWS.map((row) => row.slice(0, 3)),
      ),
    );
    expect(read(one).problems).toContainEqual(
      expect.objectContaining({
        kind: "no column",
        fix: expect.stringContaining("last:CUSHION") as string,
      }),
    );
  });

  it("offers a column of unused dates by name, also while our own column for the part is empty", () => {
    const own = bookOf(
      register(
        ["Device", "Site", "Electrode set replaced", "Ear pieces last changed", "Next visit"],
        ["D-1", "D-2", "D-3"].map((id) => [id, "S01", ...[5, 4, 8].map((at) => REPORT - 30 - at)]),
      ),
    );
    const told = {
      kind: "no column",
      fix: 'If it is the column "Ear pieces last changed", give --match "last:CUSHION=Ear pieces last changed".',
    };
    expect(read(own).problems).toContainEqual(expect.objectContaining(told));
    expect(read(adopted(own)).problems).toContainEqual(expect.objectContaining(told));
    expect(kinds(adopted(own))).not.toContain("no date");
    // What names another thing, or says that it was only looked at, is offered for no part.
    const fixes = (...headings: readonly string[]): readonly string[] => {
      const days = [5, 4, 8].map((at) => REPORT - 30 - at);
      const rows = ["D-1", "D-2", "D-3"].map((id) => [
        id,
        "S01",
        ...days.slice(0, headings.length),
      ]);
      return read(bookOf(register(["Device", "Site", ...headings], rows))).problems.flatMap(
        ({ kind, fix }) => (kind === "no column" ? [fix] : []),
      );
    };
    expect(fixes("Probe tip changed", "Trunk lead changed")).toEqual([
      ...["SET", "CUSHION"].map(
        (code) =>
          `Dates stand under "Probe tip changed" and "Trunk lead changed", which do not say that they are of it: if one of them holds it, give --match "last:${code}=its heading".`,
      ),
    ]);
    expect(fixes("Electrodes checked", "Cushions checked")).toEqual([
      ...["SET", "CUSHION"].map(
        (code) => `If a column holds it, give --match "last:${code}=its heading".`,
      ),
    ]);
    const [set, cushion] = [undatedParts(own, read(own)), undatedParts(book, read(book))];
    expect([set.map(({ part }) => part.code), cushion]).toEqual([["CUSHION"], []]);
    const lines = todayLines(todayOf(own, read(own)), set).filter((line) => /cushion/i.test(line));
    expect(lines).toEqual([
      `? Check row  3 devices. No heading was understood as the last replacement of Ear cushion. ${told.fix}`,
    ]);
    const typed = adopted(own, [filled("Equipment", columnOf(adopted(own)), 1, REPORT - 9)]);
    expect(kinds(typed)).not.toContain("no column");
    expect(kinds(typed).filter((kind) => kind === "no date")).toHaveLength(2);
  });

  it("lets a finding of the Job log stand beside the register's own", () => {
    const own = bookOf(
      register(
        [...HEADINGS, "Electrode set finding"],
        ROWS.map((row) => [...row, "clean"]),
      ),
    );
    const found = logged(own, day("2026-07-01"), "D-2", "SET", "inspected", "crack");
    expect(states(found)).toContain("D-2 Electrode set Overdue");
  });

  it("counts a finding without a part for every wearing part, and tells of it", () => {
    const found = logged(book, day("2026-07-01"), "D-2", null, "inspected", "crack");
    expect(states(found)).toEqual(
      expect.arrayContaining(["D-2 Electrode set Overdue", "D-2 Ear cushion Overdue"]),
    );
    expect(kinds(found)).toContain("unknown part");
  });

  it("closes a finding by a complete replacement, and not by a part of a set", () => {
    const finding = [day("2026-07-01"), "D-2", "SET", "replaced", "crack"];
    expect(states(logged(book, ...finding, "yes"))).not.toContain("D-2 Electrode set Overdue");
    expect(states(logged(book, ...finding, "no"))).toContain("D-2 Electrode set Overdue");
  });

  it("finds our sheets by their tables when titles are changed", () => {
    const retitled = adopted(book, [filled("Parts", 0, 0, "Our parts"), filled("Parts", 2, 3, 1)]);
    expect(read(retitled).ours.parts[0]?.shortest).toBe(1);
  });

  it("is refused when a sheet of ours can no longer be recognised", () => {
    const once = adopted(book, [filled("Parts", 0, 0, "Our parts")]);
    const bare = { ...once, sheets: once.sheets.map((sheet) => ({ ...sheet, tables: [] })) };
    expect(() => read(bare)).toThrow(
      'The sheet Parts can no longer be read: put "Parts and dated tasks" back into cell A1 and its headings into row 3.',
    );
  });

  it("tells of a part's code that cannot be used instead of dropping it", () => {
    const coded = adopted(book, [filled("Parts", 0, 4, "SET2")]);
    expect(read(coded).problems).toContainEqual(
      expect.objectContaining({ kind: "part code", row: 4 }),
    );
  });

  it("refuses to write into a user's column that carries a heading of ours", () => {
    const own = bookOf(
      register(
        [...HEADINGS, "Counted to"],
        ROWS.map((row) => [...row, "mine"]),
      ),
      counts("Sessions", 3),
    );
    expect(() => adopted(own)).toThrow(
      'The heading "Counted to" is one that Sparespan adds itself; rename your column first.',
    );
  });

  it("does not retire a device by a number that is no date", () => {
    const flagged = bookOf(
      register(
        [...HEADINGS, "Retired on"],
        ROWS.map((row) => [...row, 0]),
      ),
    );
    expect(todayOf(flagged, read(flagged)).retired).toBe(0);
  });

  it("does not take a smaller or a third count of a month for the month's", () => {
    const long = (values: readonly number[]): Sheet => {
      const rows = values.map((value): CellValue[] => ["D-1", day("2026-06-01"), value]);
      const others = ["2026-03-01", "2026-04-01", "2026-05-01"].map((month): CellValue[] => [
        "D-1",
        day(month),
        40,
      ]);
      const lines = [["Device", "Month", "Sessions"], ...others, ...rows];
      return {
        ...paperSheet("Counts", lines),
        formats: lines.map((_, at) => (at > 0 ? [0, 1, 0] : [])),
      };
    };
    const june = (...values: number[]) =>
      read(bookOf(register(HEADINGS, ROWS), long(values))).counts.find(
        ({ month }) => month === day("2026-06-01"),
      );
    expect(june(40, 50)).toMatchObject({ count: 50, faulty: false });
    expect(june(50, 40)).toMatchObject({ count: null, faulty: true });
    expect(june(50, 50, 50)).toMatchObject({ count: null, faulty: true });
  });
});

describe("names of ours", () => {
  it("are made anew when their cells were deleted", () => {
    const once = adopted(bookOf(register(HEADINGS, ROWS)));
    const names = once.names.map((name) =>
      name.name === "SpareSETShortest"
        ? { ...name, refersTo: "INDEX(#REF!,MATCH(1,#REF!,0))" }
        : name,
    );
    const request = { mode: "portable", today: REPORT, force: false } as const;
    const broken = { ...once, names };
    const plan = columnsPlan(broken, read(broken), request);
    expect(plan.edits.filter(({ kind }) => kind === "addName")).toMatchObject([
      { name: "SpareSETShortest" },
    ]);
    expect(refusals(broken, plan)).toEqual([]);
  });
});
