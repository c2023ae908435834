import { describe, expect, it } from "vitest";
import { undatedParts } from "../../../../src/book/reading/unread/missing-columns.ts";
import { readBook } from "../../../../src/book/reading/read.ts";
import { bookOf, on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** A programme's own limits, worded its own way or kept beside the register. Common usage, no source. */
const MAY = on("2026-05-04");
const JUNE = on("2026-06-22");
const kit = (headings: readonly string[], cells: readonly Typed[]): Typed[][] => [
  ["Device", "Site", "Electrodes replaced", "Ear cushions replaced", ...headings],
  ...["A1", "A2", "A3"].map((id): Typed[] => [id, "Alder", MAY, MAY, ...cells]),
];
const fieldsOf = (heading: string, cell: Typed): string[] => {
  const { registers } = readSheets([sheetOf("Kit", kit([heading], [cell]))]);
  return registers[0]?.matches.map(({ field, heading: of }) => (of === heading ? field : "")) ?? [];
};

describe("own due dates and intervals in other words", () => {
  it.each([
    ...["Electrodes valid until", "Electrodes change by", "Electrodes expire", "Electrodes until"],
    ...["Elektroden gültig bis", "Électrodes valables jusqu'au", "Electrodos válidos hasta"],
    ...[
      "Eletrodos válidos até",
      "Elettrodi validi fino al",
      "Elektroden geldig tot",
      "Elektrody ważne do",
    ],
  ])("%s is a due date of its part", (heading) => {
    expect(fieldsOf(heading, JUNE)).toContain("due:SET");
  });
  it.each([
    ...["Electrodes life (months)", "Electrodes cycle (weeks)", "Electrodes max. months"],
    ...[
      "Lebensdauer Elektroden",
      "Durée de vie électrodes",
      "Vida útil electrodos",
      "Levensduur elektroden",
    ],
    ...["Vita utile elettrodi", "Żywotność elektrod"],
  ])("%s is an interval of its part", (heading) => {
    expect(fieldsOf(heading, 2)).toContain("every:SET");
  });
  it.each(["Electrodes changed by", "Electrodes replaced by"])("%s asks who did it", (heading) => {
    expect(fieldsOf(heading, JUNE).filter((field) => field.startsWith("due:"))).toEqual([]);
  });
  it("Planned right beside the dates of a part is a due date of that part", () => {
    expect(fieldsOf("Planned", JUNE)).toContain("due:CUSHION");
  });
});

describe("limits beside the register", () => {
  const told = (name: string, rows: Typed[][]): number =>
    readSheets([sheetOf("Kit", kit([], [])), sheetOf(name, rows)]).problems.filter(
      ({ kind, sheet }) => kind === "own limit unclear" && sheet === name,
    ).length;

  it.each([
    [
      "Intervals",
      [
        ["Part", "Replace every (months)"],
        ["Electrodes", 2],
        ["Ear cushions", 4],
      ],
    ],
    [
      "Parts",
      [
        ["Part", "Every (months)", "Supplier"],
        ["Electrodes", 2, "S1"],
      ],
    ],
    [
      "Setup",
      [
        ["Electrode interval", 2],
        ["Ear cushion interval", 4],
      ],
    ],
    [
      "Next due",
      [
        ["Device", "Electrodes next due"],
        ["A1", JUNE],
      ],
    ],
    ["Rules", [["Ear cushions: every 4 months (local policy)"]]],
    ["Notes", [["Electrodes: 8 weeks"]]],
    ["Notizen", [["Elektroden: 8 Wochen"]]],
    ["Uwagi", [["Elektrody: 8 tygodni"]]],
    ["Regeln", [["Elektroden alle 2 Monate"]]],
    ["Règles", [["Électrodes : tous les 2 mois"]]],
    ["Reglas", [["Electrodos cada 2 meses"]]],
    ["Regole", [["Elettrodi ogni 2 mesi"]]],
    ["Regels", [["Elektroden elke 2 maanden"]]],
    ["Zasady", [["Elektrody co 2 miesiące"]]],
  ] as [string, Typed[][]][])("are told once of the sheet %s", (name, rows) => {
    expect(told(name, rows)).toBe(1);
  });
  it("are told where they stand above the register", () => {
    const rows = [["Electrodes: every 2 months. Ear cushions: every 4 months."], ...kit([], [])];
    const { problems } = readSheets([sheetOf("Kit", rows)]);
    expect(problems.filter(({ kind }) => kind === "own limit unclear")).toHaveLength(1);
  });

  it.each([
    ["below it", (rows: Typed[][]) => [...rows, [], ["Changer les électrodes tous les 2 mois"]]],
    ["below it in few words", (rows: Typed[][]) => [...rows, [], ["Elektroden: 8 Wochen"]]],
    [
      "right of it",
      (rows: Typed[][]) =>
        rows.map((row, at) =>
          at === 1 ? [...row, null, null, "Replace electrodes every 2 months"] : row,
        ),
    ],
    [
      "right under its headings",
      ([head, ...rows]: Typed[][]) => [head ?? [], [null, null, "4-monthly"], ...rows],
    ],
  ] as [string, (rows: Typed[][]) => Typed[][]][])(
    "are told first where they stand %s",
    (_, placed) => {
      const { problems } = readSheets([sheetOf("Kit", placed(kit([], [])))]);
      expect(problems.filter(({ kind }) => kind === "own limit unclear")).toHaveLength(1);
    },
  );
  it.each([
    [
      "Stock",
      [
        ["Part", "On the shelf"],
        ["Electrodes", 12],
        ["Ear cushions", 4],
      ],
    ],
    ["Rules", [["Electrodes are cleaned every day with wipes"], ["Batteries every 24 months"]]],
    [
      "Years",
      [
        ["Part", "Replace every (months)"],
        ["Electrodes", 24],
      ],
    ],
  ] as [string, Typed[][]][])("are not heard in %s", (name, rows) => {
    expect(told(name, rows)).toBe(0);
  });
});

describe("columns that are no last replacement", () => {
  it.each(["Electrodes replace on", "Electrodes change requested"])("%s", (heading) => {
    const rows = kit([], []).map(
      (row, at) => [row[0], row[1], at === 0 ? heading : MAY] as Typed[],
    );
    const { registers } = readSheets([sheetOf("Kit", rows)]);
    expect(registers[0]?.matches.map(({ field }) => field)).not.toContain("last:SET");
  });
  it.each([
    ...["Échéances", "Scadenze", "Delivery dates", "Inspections", "Cleaning log", "Kontrollen"],
    ...["Reinigung", "Pulizie", "Nettoyage", "Limpieza"],
  ])("a part's name alone on a sheet called %s", (name) => {
    const rows = kit([], []).map(
      (row, at) => [row[0], row[1], at === 0 ? "Ear cushions" : MAY] as Typed[],
    );
    const { devices } = readSheets([sheetOf(name, rows)]);
    expect(devices[0]?.lastDone.find(({ part }) => part === "CUSHION")?.date).toBeNull();
  });
  it("the day a device went out of service is none of its commissioning", () => {
    expect(fieldsOf("Out of service since", MAY)).not.toContain("commissioned");
    expect(fieldsOf("Electrode contact in use since", MAY)).not.toContain("commissioned");
  });
});

describe("what is offered for a calibration", () => {
  const offered = (headings: readonly string[], cells: readonly Typed[]): string[] => {
    const book = bookOf([
      sheetOf("Kit", [
        ["Device", "Site", ...headings],
        ...["A1", "A2", "A3"].map((id): Typed[] => [id, "Alder", ...cells]),
      ]),
    ]);
    return undatedParts(book, readBook(book, oursOf())).flatMap(
      ({ problem }) => /last:CALIBRATION=([^"]*)/u.exec(problem.fix)?.[1] ?? [],
    );
  };
  const PARTS = ["Electrodes replaced", "Ear cushions replaced"];

  it("is a column nobody knows, once every part that wears has its own", () => {
    expect(offered([...PARTS, "Kalibrerad"], [MAY, MAY, MAY])).toEqual(["Kalibrerad"]);
    expect(offered(["Electrodes replaced", "Öronkuddar bytta"], [MAY, MAY])).toEqual([]);
  });
  it("is no column of days to come", () => {
    expect(offered([...PARTS, "Seuraava vaihto"], [MAY, MAY, on("2027-05-04")])).toEqual([]);
  });
});
