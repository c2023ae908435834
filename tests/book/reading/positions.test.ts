import { describe, expect, it } from "vitest";
import { judge } from "../../../src/book/columns/judge.ts";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import { logEntry } from "../../../src/book/day/entry.ts";
import { positionOf } from "../../../src/book/records/position-words.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { readBook } from "../../../src/book/reading/read.ts";
import type { Part, Reading } from "../../../src/book/records/records.ts";
import { lastColumns } from "../../../src/book/records/positions.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { sheetNamed, valueAt } from "../../../src/book/workbook/snapshot.ts";
import { day } from "../../../src/core/day.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { sheetEdits } from "../../scenes/several-sheets.ts";
import { bookOf, jobOf, on, oursOf, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

const TODAY = day("2026-06-30");
const DATES = ["2026-05-20", "2026-02-10", "2026-06-01"];

/** A register with these columns of cushions, a device a row. */
function cushions(headings: readonly string[], ...rows: readonly (readonly Typed[])[]): Snapshot {
  const lines = rows.map((row, at): Typed[] => [`C-${at + 1}`, on(DATES[at % 3] ?? ""), ...row]);
  return bookOf([sheetOf("Kit", [["Device", "Electrode set replaced", ...headings], ...lines])]);
}

const EARLIEST = { positions: "earliest" } as const;
const read = (book: Snapshot, matches: ReadonlyMap<string, string> = new Map()): Reading =>
  readBook(book, oursOf({ ...EARLIEST, matches }));

function cushionOf({ ours }: Reading): Part {
  const part = ours.parts.find(({ code }) => code === "CUSHION");
  if (part === undefined) throw new Error("no cushion");
  return part;
}

function headingsOf(reading: Reading): string[] {
  const [register] = reading.registers;
  return register === undefined
    ? []
    : lastColumns(register, cushionOf(reading)).map(({ heading }) => heading);
}

const dates = (reading: Reading): (number | null | undefined)[] =>
  reading.devices.map(({ lastDone }) => lastDone.find(({ part }) => part === "CUSHION")?.date);
const states = (book: Snapshot, reading: Reading): string[] =>
  judge(book, reading)
    .rows(cushionOf(reading))
    .map(({ answers }) => answers.state);

const PAIRS = [
  ["Left cushion replaced", "Right cushion replaced"],
  ["Cushion replaced L", "Cushion replaced R"],
  ["Cushion L", "Cushion R (date)"],
  ["Ear cushion (left): last replaced", "Ear cushion (right): last replaced"],
  ["Cushion 1 changed", "Cushion 2 changed"],
  ["Linkes Ohrpolster gewechselt am", "Rechtes Ohrpolster gewechselt am"],
  ["Coussinet gauche remplacé", "Coussinet droit remplacé"],
] as const;
const LATE_LEFT = [
  [on("2025-05-04"), on("2026-06-01")],
  [on("2026-06-01"), on("2025-05-04")],
  [on("2026-06-01"), on("2026-06-02")],
];

describe("a part with a column for each position, of which the earliest date counts", () => {
  it.each(PAIRS)("has all of them read, named, and the earliest counted: %s, %s", (...pair) => {
    const book = cushions(pair, ...LATE_LEFT);
    const reading = read(book);
    expect(headingsOf(reading)).toEqual(pair);
    expect(dates(reading)).toEqual([day("2025-05-04"), day("2025-05-04"), day("2026-06-01")]);
    expect(states(book, reading)).toEqual(["Overdue", "Overdue", "Not due"]);
    expect(reading.problems.map(({ kind, severity }) => [kind, severity])).toEqual([
      ["several positions", "notice"],
    ]);
    for (const heading of pair) expect(reading.problems[0]?.cause).toContain(`"${heading}"`);
  });

  it("may be told apart by the colours of leads", () => {
    const rows = DATES.map((date, at): Typed[] => [`E-${at}`, on(date), on("2026-01-05")]);
    const headings = ["Device", "Electrode red replaced", "Electrode white replaced"];
    const { devices } = readSheets([sheetOf("Kit", [headings, ...rows])], oursOf(EARLIEST));
    const found = devices.map(({ lastDone }) => lastDone.find(({ part }) => part === "SET")?.date);
    expect(found).toEqual([day("2026-01-05"), day("2026-01-05"), day("2026-01-05")]);
  });

  it("counts a column of the whole part beside them as one more", () => {
    const book = cushions(
      ["Ear cushion replaced", "Left cushion replaced", "Right cushion replaced"],
      ...LATE_LEFT.map((row) => [on("2024-01-08"), ...row]),
    );
    expect(headingsOf(read(book))).toHaveLength(3);
    expect(dates(read(book))).toEqual(LATE_LEFT.map(() => day("2024-01-08")));
  });

  it("has no date in a row where one is missing, text or an error", () => {
    const book = cushions(
      PAIRS[0],
      [on("2026-06-01"), null],
      ["last spring", on("2026-06-01")],
      [on("2026-06-01"), { error: "#N/A" }],
    );
    const reading = read(book);
    expect(dates(reading)).toEqual([null, null, null]);
    expect(states(book, reading)).toEqual(["Check row", "Check row", "Check row"]);
    expect(reading.problems.map(({ kind }) => kind).sort()).toEqual([
      "cell error",
      "no date",
      "several positions",
      "text date",
    ]);
  });

  it("brings the other pieces along where one column is chosen", () => {
    const book = cushions(PAIRS[0], ...LATE_LEFT);
    const chosen = read(book, new Map([["column last:CUSHION", "Right cushion replaced"]]));
    expect(headingsOf(chosen).sort()).toEqual([...PAIRS[0]].sort());
    expect(dates(chosen)).toEqual(dates(read(book)));
  });

  it("is not made of one column, of two parts, or of days of buying", () => {
    const one = read(
      cushions(["Left cushion replaced"], ...LATE_LEFT.map(([left]) => [left ?? null])),
    );
    expect(headingsOf(one)).toEqual(["Left cushion replaced"]);
    expect(one.problems.map(({ kind, cause }) => [kind, cause])).toEqual([
      [
        "unclear column",
        '"Left cushion replaced" speaks of one position (left), and no column of right was found: when right was last replaced is not known, so there is no date for it.',
      ],
    ]);
    expect(dates(one)).toEqual([null, null, null]);
    const bought = readWorkbook(
      cushions(
        [
          "Left cushion warranty",
          "Right cushion warranty",
          "Cushions purchased",
          "Cushions ordered",
          "Delivery date",
        ],
        ...LATE_LEFT.map((row) => [...row, on("2026-01-01"), on("2026-01-01"), on("2026-01-01")]),
      ),
      TODAY,
    );
    expect(headingsOf(bought)).toEqual([]);
    const { fix } = bought.problems.find(({ kind }) => kind === "no column") ?? {};
    expect(fix).toBe('If a column holds it, give --match "last:CUSHION=its heading".');
  });

  it("is advised as a whole where its columns are not understood", () => {
    const reading = readWorkbook(cushions(["Left foam", "Right foam"], ...LATE_LEFT), TODAY);
    const { fix } = reading.problems.find(({ kind }) => kind === "no column") ?? {};
    expect(fix).toBe(
      'If it is in the columns "Left foam" and "Right foam", give --match "last:CUSHION=Left foam": each then has an interval of its own.',
    );
  });
});

describe("the Job log of a part with positions", () => {
  const sheet = cushions(PAIRS[0], [on("2026-03-02"), on("2026-06-01")]).sheets;
  const partial = (date: string) => jobOf("C-1", "CUSHION", date, { complete: false });
  const kinds = (...jobs: ReturnType<typeof jobOf>[]): string[] =>
    readSheets(sheet, oursOf(EARLIEST, { jobs }))
      .problems.map(({ kind }) => kind)
      // The log's own notice: a job that is no complete set.
      .filter((kind) => kind !== "several positions" && kind !== "partial set");

  it("may know each piece by a job of its own", () => {
    expect(kinds(partial("2026-03-02"), partial("2026-06-01"))).toEqual([]);
    expect(kinds(jobOf("C-1", "CUSHION", "2026-03-02"), partial("2026-06-01"))).toEqual([]);
  });

  it("is contradicted by a complete set after a date, and by one that it lacks", () => {
    expect(kinds(jobOf("C-1", "CUSHION", "2026-06-01"))).toEqual(["date disagrees"]);
    expect(kinds(jobOf("C-1", "CUSHION", "2026-03-02"))).toEqual(["date disagrees"]);
  });

  it("does not take one job of a day for two pieces", () => {
    const both = cushions(PAIRS[0], [on("2026-06-01"), on("2026-06-01")]).sheets;
    const told = readSheets(both, oursOf(EARLIEST, { jobs: [partial("2026-06-01")] })).problems;
    expect(told.filter(({ kind }) => kind === "date of a partial set")).toHaveLength(2);
  });
});

describe("a workbook with positions", () => {
  const made = (book: Snapshot): Uint8Array =>
    newWorkbook({ summary: "a register", edits: sheetEdits(book) });
  const book = cushions(PAIRS[0], ...LATE_LEFT);
  const withColumns = (bytes: Uint8Array): Uint8Array => {
    const open = openWorkbook(bytes);
    const request = { mode: "portable", today: TODAY, force: false } as const;
    const plan = columnsPlan(open.snapshot, read(open.snapshot), request);
    return plan.edits.length === 0 ? bytes : applyPlan(open, plan);
  };

  it("gets one column of the earliest date, by a formula, and nothing a second time", () => {
    const bytes = withColumns(made(book));
    const { snapshot } = openWorkbook(bytes);
    const sheet = sheetNamed(snapshot, "Kit");
    const headings = sheet?.values[0] ?? [];
    const at = headings.indexOf("Ear cushion: earliest date");
    expect([...(sheet?.formulas.values() ?? [])]).toContain(
      'IF(OR(ISLOGICAL($C2),ISLOGICAL($D2)),"",IF(COUNT($C2,$D2)=2,MIN($C2,$D2),""))',
    );
    expect([1, 2, 3].map((row) => (sheet === null ? null : valueAt(sheet, row, at)))).toEqual([
      day("2025-05-04"),
      day("2025-05-04"),
      day("2026-06-01"),
    ]);
    expect(withColumns(bytes)).toBe(bytes);
    expect(states(snapshot, read(snapshot))).toEqual(["Overdue", "Overdue", "Not due"]);
  });

  it("has both dates moved by a complete set, and none by anything less", () => {
    const open = openWorkbook(withColumns(made(book)));
    const entry = {
      ...{ date: TODAY, device: "C-1", part: "CUSHION", job: "replaced", finding: "" },
      ...{ complete: true, lot: "", by: "LS1", note: "" },
    };
    const logged = (complete: boolean) => {
      const { edits } = logEntry(open.snapshot, read(open.snapshot), {
        entry: { ...entry, complete },
        again: false,
      });
      const after = openWorkbook(applyPlan(open, { summary: "log", edits })).snapshot;
      const sheet = sheetNamed(after, "Kit");
      return [...(sheet?.values[1]?.slice(2, 4) ?? []), states(after, read(after))[0]];
    };
    expect(logged(true)).toEqual([TODAY, TODAY, "Not due"]);
    expect(logged(false)).toEqual([day("2025-05-04"), day("2026-06-01"), "Overdue"]);
  });
});

it("takes a heading apart", () => {
  expect(positionOf("Cushion R (date)")).toEqual({ position: "right", rest: "Cushion   (date)" });
  expect(positionOf("Ear cushion replaced")).toBeNull();
});

it.each([
  ["Almohadilla izq. cambio", "Almohadilla der. cambio"],
  ["Almohadilla izda. cambio", "Almohadilla dch. cambio"],
  ["Coussinet gche changé le", "Coussinet dte changé le"],
  ["Nausznik lew. wymiana", "Nausznik praw. wymiana"],
])("knows the sides in short: %s, %s", (left, right) => {
  expect(positionOf(left)?.position).toBe("left");
  expect(positionOf(right)?.position).toBe("right");
  expect(positionOf("Wechsel der Elektroden")).toBeNull();
});
