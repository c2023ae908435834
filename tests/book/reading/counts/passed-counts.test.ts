import { describe, expect, it } from "vitest";
import type { Problem } from "../../../../src/book/records/records.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const REGISTER = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...["001", "002", "003"].map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);
const MONTHS = ["2026-01-01", "2026-02-01", "2026-03-01", "2026-04-01"];

function passed(rows: Typed[][], ours = oursOf()): Problem[] {
  const { problems } = readSheets([REGISTER, sheetOf("Numbers", rows)], ours);
  return problems.filter(({ kind }) => kind === "counts not read");
}

describe("numbers by week", () => {
  const FOUR = [0, 7, 14, 21].map((days): Typed =>
    on(`2026-06-${String(days + 1).padStart(2, "0")}`),
  );
  it.each([
    [
      "weeks by their first days",
      [
        ["Device", ...FOUR],
        ["001", 9, 10, 9, 8],
        ["002", 4, 5, 4, 4],
        ["003", 3, 3, 3, 3],
      ],
    ],
    [
      "the latest first",
      [
        ["Device", ...[...FOUR].reverse()],
        ["001", 9, 10, 9, 8],
        ["002", 4, 5, 4, 4],
      ],
    ],
    [
      "weeks by their numbers",
      [
        ["Toestel", "wk 1", "wk 2", "wk 3"],
        ["001", 9, 10, 9],
        ["002", 4, 5, 4],
      ],
    ],
    [
      "weeks below each other",
      [["Device", "Week starting", "Sessions"], ...FOUR.map((week): Typed[] => ["001", week, 9])],
    ],
  ] as [string, Typed[][]][])("of devices are told as that and not counted: %s", (_, rows) => {
    const reading = readSheets([REGISTER, sheetOf("Numbers", rows)]);
    expect(reading.counts).toEqual([]);
    expect(reading.problems.map(({ cause }) => cause)).toContain(
      "Numbers has numbers by week: they are not used, so the shortest intervals apply.",
    );
  });
});

describe("numbers by month that no device stands beside", () => {
  it.each([
    [
      "sites and months",
      [
        ["Site", ...MONTHS.map(on)],
        ["Alder", 40, 41, 42, 43],
        ["Birch", 4, 5, 6, 7],
      ],
    ],
    [
      "devices by another name",
      [
        ["Device", ...MONTHS.map(on)],
        [1, 40, 41, 42, 43],
        [2, 4, 5, 6, 7],
      ],
    ],
    [
      "devices of which few are named as on the register",
      [
        ["Device", ...MONTHS.map(on)],
        ["001", 40, 41, 42, 43],
        ["No 2", 4, 5, 6, 7],
        ["No 3", 4, 5, 6, 7],
        ["No 4", 4, 5, 6, 7],
      ],
    ],
    [
      "months below each other",
      [["Month", "Births", "Screened"], ...MONTHS.map((month): Typed[] => [on(month), 60, 58])],
    ],
    [
      "weeks",
      [
        ["Week", "Alder"],
        ...["2026-W01", "2026-W02", "2026-W03"].map((week): Typed[] => [week, 12]),
      ],
    ],
  ] as [string, Typed[][]][])("are told once: %s", (_, rows) => {
    const [one, ...more] = passed(rows);
    expect(more).toEqual([]);
    expect(one?.cause).toMatch(/names (?:no device|few devices) of the register/);
  });

  it("are not told where they are read, where a person said there are none, or of other lists", () => {
    const read: Typed[][] = [
      ["Device", ...MONTHS.map(on)],
      ["001", 1, 2, 3, 4],
      ["002", 1, 2, 3, 4],
    ];
    const sites: Typed[][] = [
      ["Site", ...MONTHS.map(on)],
      ["Alder", 40, 41, 42, 43],
      ["Birch", 4, 5, 6, 7],
    ];
    expect(passed(read)).toEqual([]);
    expect(passed(sites, oursOf({ matches: new Map([["counts", "none"]]) }))).toEqual([]);
    expect(
      passed([
        ["Room", "Seats"],
        ["Store", 12],
        ["Office", 4],
      ]),
    ).toEqual([]);
  });
});

describe("numbers of devices by month that are no uses", () => {
  const rows = (title: string | null): Typed[][] => [
    ...(title === null ? [] : [[title], []]),
    ["Device", ...MONTHS.map(on)],
    ["001", 1, 2, 3, 4],
    ["002", 1, 2, 3, 4],
  ];
  const counted = (name: string, title: string | null, ours = oursOf()): [number, number] => {
    const reading = readSheets([REGISTER, sheetOf(name, rows(title))], ours);
    const told = reading.problems.filter(({ kind }) => kind === "counts not read");
    return [reading.counts.length, told.length];
  };

  it.each(["Refers", "Faults 2026", "Inspections", "Costs", "Kontrollen", "Heures"])(
    "are taken for none where the sheet is called %s, and told",
    (name) => {
      expect(counted(name, null)).toEqual([0, 1]);
    },
  );
  it("are taken for none where a title says so, unless a person chose the sheet", () => {
    expect(counted("Sheet2", "Number of failed screens")).toEqual([0, 1]);
    const chosen = oursOf({ matches: new Map([["counts", "Sheet2"]]) });
    expect(counted("Sheet2", "Number of failed screens", chosen)[0]).toBeGreaterThan(0);
  });
  /** A sheet's name and the title above it. Phrases of the languages' own authors: common usage, no source. */
  it.each([
    ...[
      "Screens",
      "Monthly sessions",
      "Sheet2",
      "Tabelle1",
      "Feuil2",
      "2026",
      "Q1 2026",
      "Jan-Jun 2026",
      "Alder",
    ],
    ...[
      "Counts",
      "Numbers",
      "Data",
      "Usage log",
      "Tests by device",
      "Babies screened",
      "Screening 2026",
    ],
    ...[
      "Untersuchungen",
      "Anzahl Screenings",
      "Zahlen 2026",
      "Dépistages",
      "Données",
      "Examens par mois",
      "Pruebas",
    ],
    ...[
      "Datos",
      "Usos por mes",
      "Esami",
      "Dati",
      "Rastreios",
      "Dados",
      "Aantal metingen",
      "Gegevens",
      "Badania",
      "Dane",
    ],
  ])("are uses in %s", (name) => {
    const [counts, told] = counted(name, null);
    expect([counts > 0, told]).toEqual([true, 0]);
  });
  it.each([
    ...[
      "Electrodes used",
      "Consumption",
      "Verbrauch",
      "Consommation",
      "Consumo",
      "Zużycie",
      "Wipes used",
    ],
    ...[
      "Plan 2026",
      "Forecast",
      "Planned sessions",
      "Geplante Untersuchungen",
      "Examens prévus",
      "Sesiones previstas",
    ],
    ...[
      "Second screens",
      "NICU babies",
      "Follow-up tests",
      "Audit sessions",
      "Days in use",
      "Stickers",
    ],
    ...[
      "Sessions per day",
      "Weekly average",
      "Ø pro Woche",
      "Par semaine",
      "Tests al día",
      "Esami a settimana",
    ],
    ...["Usos por dia", "Metingen per week", "Badania tygodniowo", "Screening programme inventory"],
  ])("are taken for none in %s, and told", (name) => {
    expect(counted(name, null)).toEqual([0, 1]);
  });
  it.each([
    ...[
      "in tens",
      "(hundreds)",
      "x 10",
      "sample of 10 %",
      "provisional",
      "moyenne par semaine",
      "NICU only",
    ],
    ...["nur Tagschicht", "solo orecchio destro", "Cushions issued", "Electrode sets used"],
  ])("are none below the title %s, even on a sheet called Sessions", (title) => {
    if (title === "provisional" || /used|issued/u.test(title)) {
      expect(counted("Counts", title)).toEqual([0, 1]);
    } else expect(counted("Sessions", title)).toEqual([0, 1]);
  });
  it("are uses below any other title where the sheet says sessions", () => {
    expect(counted("Sessions", "Northern maternity services")[1]).toBe(0);
  });
});

describe("months over several columns", () => {
  const wide = (below: readonly string[], ours = oursOf()) =>
    readSheets(
      [
        REGISTER,
        sheetOf("Numbers", [
          [
            "Device",
            ...MONTHS.flatMap((month): Typed[] => [on(month), ...below.slice(1).map(() => null)]),
          ],
          [null, ...MONTHS.flatMap(() => below)],
          ...["001", "002"].map((id): Typed[] => [
            id,
            ...MONTHS.flatMap(() => below.map((_, at) => 10 * (at + 1))),
          ]),
        ]),
      ],
      ours,
    );
  const read = (below: readonly string[]) => {
    const { counts, problems } = wide(below);
    const told = problems.filter(
      ({ kind }) => kind === "counts in doubt" || kind === "device missing",
    );
    return [[...new Set(counts.map(({ count }) => count))], told.length];
  };

  it.each([
    [["Refer", "Births", "Screened"], 30],
    [["Screened", "Refer"], 10],
    [["Auffällig", "Untersuchungen"], 20],
    [["Nés", "Dépistages"], 20],
    [["Sessions"], 10],
  ] as [string[], number][])("count the column that says uses: %j", (below, count) => {
    expect(read(below)).toEqual([[count], 0]);
  });
  it.each([
    [["Refer", "Births"]],
    [["Left", "Right"]],
    [["Screens", "Tests"]],
    [["Screens", "Repeat"]],
    [["Tests", "Outpatient"]],
  ])("are told where none or several may be it: %j", (below) => {
    expect(read(below)).toEqual([[], 1]);
  });
  it("are told where none may be", () => {
    const { counts, problems } = wide(["Refer"]);
    expect(counts).toEqual([]);
    expect(problems.map(({ kind }) => kind)).toContain("counts not read");
  });
  it("are not counted though a person chose the sheet, since nobody knows which column it would be", () => {
    const chosen = oursOf({ matches: new Map([["counts", "Numbers"]]) });
    expect(wide(["Refer", "Births"], chosen).counts).toEqual([]);
  });
});
