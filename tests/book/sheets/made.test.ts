import { describe, expect, it } from "vitest";
import { civilDay } from "../../../src/core/day.ts";
import { chartPlace } from "../../../src/book/sheets/chart-place.ts";
import { newPlace, type Result, resultEdits } from "../../../src/book/sheets/result.ts";
import { type ResultColumns, resultSheet } from "../../../src/book/sheets/result-sheet.ts";
import type { AddChart, AddSheet, Edit } from "../../../src/book/workbook/plan.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { headingRow } from "../../../src/book/sheets/layout.ts";
import { onPaper } from "../../../taskpane/paper.ts";

interface Row {
  readonly name: string;
  readonly cost: number;
  readonly why: string;
}

const SHEET = resultSheet({
  ...{ name: "Made up", title: "A title", table: "SpareMadeUp", about: "none", room: 10 },
  strong: (of) => `${of("Name")}="All"`,
  columns: {
    Name: { width: 9, about: "Who.", cell: ({ name }) => name },
    Cost: { width: 9, format: "0.00", about: "How much.", cell: ({ cost }) => cost },
    Why: { width: 9, about: "For what.", cell: ({ why }) => why },
    Base: { width: 9, helper: true, about: "For the chart.", cell: ({ cost }) => cost },
  } satisfies ResultColumns<Row>,
});

const ROWS = [
  { name: "All", cost: 3, why: "both" },
  { name: "one", cost: 3, why: "new" },
];
const BLANK: Snapshot = { dateSystem: 1900, formats: ["General"], sheets: [], names: [] };

function result(charts: number, answer = "2 lines"): Result {
  return SHEET.filled({
    ...{ answer, reportDate: civilDay(2026, 7, 6), notes: ["A note."], rows: ROWS },
    charts: (place) =>
      Array.from({ length: charts }, (_, nth): AddChart => ({
        ...{
          kind: "addChart",
          sheet: place.sheet,
          chart: "band",
          title: `${nth}`,
          description: "",
        },
        at: chartPlace(SHEET.layout, place, { nth, of: charts }),
        series: [],
      })),
  });
}

function added(edits: readonly Edit[]): AddSheet {
  const found = edits.find((edit): edit is AddSheet => edit.kind === "addSheet");
  if (found === undefined) throw new Error("no sheet was added");
  return found;
}

function chartsOf(edits: readonly Edit[]): AddChart["at"][] {
  return edits.flatMap((edit) => (edit.kind === "addChart" ? [edit.at] : []));
}

describe("a column that people put into a table of results", () => {
  const KEYED = resultSheet({
    ...{ name: "Kept", title: "Kept", table: "SpareKept", about: "none", room: 10 },
    columns: {
      Name: { width: 9, about: "Who.", cell: ({ name }) => name },
      Paid: { width: 9, input: true, about: "Fill in." },
    } satisfies ResultColumns<Row>,
    keys: ["Name"],
  });
  const kept = (names: readonly string[]): Result =>
    KEYED.filled({
      ...{ reportDate: civilDay(2026, 7, 6), notes: [] },
      rows: names.map((name) => ({ name, cost: 1, why: "" })),
    });
  const made = onPaper(BLANK, { summary: "", edits: resultEdits(BLANK, kept(["A", "B"])) });
  /** With a third column in the table, and something in it beside B. */
  const [sheet] = made.sheets;
  const [table] = sheet?.tables ?? [];
  if (sheet === undefined || table === undefined) throw new Error("nothing was made");
  const { area } = table;
  const widened: Snapshot = {
    ...made,
    sheets: [
      {
        ...sheet,
        tables: [
          { ...table, area: { ...area, lastColumn: 2 }, headings: ["Name", "Paid", "Seen"] },
        ],
        values: sheet.values.map((cells, row) =>
          row === area.firstRow
            ? [...cells.slice(0, 2), "Seen"]
            : row === area.firstRow + 2
              ? [...cells.slice(0, 2), "crack"]
              : cells,
        ),
      },
    ],
  };

  it("refuses to have its rows moved away from what stands there", () => {
    expect(resultEdits(widened, kept(["A", "B"]))).toEqual([]);
    expect(() => resultEdits(widened, kept(["A", "AB", "B"]))).toThrow(
      "Kept has text under Seen that its rows would move away from",
    );
    expect(resultEdits(widened, kept(["A", "B", "C"])).length).toBeGreaterThan(0);
  });
});

describe("a sheet of ours whose rows were moved by a program that leaves its table's area", () => {
  it("is read from the row its headings stand in", () => {
    const made = onPaper(BLANK, { summary: "", edits: resultEdits(BLANK, result(0)) });
    const [sheet] = made.sheets;
    if (sheet === undefined) throw new Error("nothing was made");
    const head = headingRow(sheet);
    for (const by of [-1, 2]) {
      const values = by < 0 ? sheet.values.slice(1) : [[], [], ...sheet.values];
      expect(headingRow({ ...sheet, values })).toBe(head + by);
    }
  });
});

describe("a sheet of results", () => {
  it("says its answer first, in bold and alone", () => {
    const { cells } = added(resultEdits(BLANK, result(0)));
    const under = cells.filter(({ row, column }) => row > 0 && row < 4 && column === 0);
    expect(under.map(({ value, look }) => [value, look]).slice(0, 2)).toEqual([
      ["2 lines", "answer"],
      ["As of 2026-07-06. A note.", "plain"],
    ]);
    expect(added(resultEdits(BLANK, result(0, ""))).cells[1]).toMatchObject({ look: "plain" });
  });

  it("sets text off from the number before it, and heads numbers at their edge", () => {
    const { cells } = added(resultEdits(BLANK, result(0)));
    const of = (column: number) =>
      cells
        .filter((cell) => cell.row > 4 && cell.column === column)
        .map(({ away, toRight }) => [away, toRight]);
    expect(of(1)).toEqual([
      [undefined, true],
      [undefined, true],
      [undefined, true],
    ]);
    expect(of(2)).toEqual([
      [true, undefined],
      [true, undefined],
      [true, undefined],
    ]);
  });

  it("hides what only its charts need, and makes sums bold by a rule that sorting cannot part from them", () => {
    const edits = resultEdits(BLANK, result(1));
    expect(added(edits).hiddenColumns).toEqual([3]);
    const head = newPlace(result(1), "Made up").headingRow;
    expect(edits.find(({ kind }) => kind === "addRule")).toMatchObject({
      area: { firstRow: head + 1, lastRow: head + 10, lastColumn: 3 },
      rules: [{ formula: `$A${head + 2}="All"`, look: { bold: true } }],
    });
  });

  it.each([1, 2, 3, 4, 7])("has room for %i charts above its table, none upon another", (count) => {
    const edits = resultEdits(BLANK, result(count));
    const { headingRow, chartsFrom } = newPlace(result(count), "Made up");
    const places = chartsOf(edits);
    expect(places).toHaveLength(count);
    expect(added(edits).freezeRows).toBe(0);
    places.forEach((one, at) => {
      expect(one.firstRow).toBeGreaterThan(chartsFrom ?? Infinity);
      expect(one.lastRow).toBeLessThan(headingRow - 1);
      expect(one.lastColumn).toBeLessThan(4);
      expect(one.firstColumn).toBeLessThanOrEqual(one.lastColumn);
      for (const other of places.slice(0, at)) {
        const isBelow = one.firstRow > other.lastRow;
        expect(isBelow || one.firstColumn > other.lastColumn).toBe(true);
      }
    });
  });

  it("keeps its charts and lines where they are when it is written again", () => {
    const made = onPaper(BLANK, { summary: "", edits: resultEdits(BLANK, result(3)) });
    expect(resultEdits(made, result(3))).toEqual([]);
    const again = resultEdits(made, result(3, "3 lines"));
    expect(chartsOf(again)).toEqual(chartsOf(resultEdits(BLANK, result(3))));
    const after = onPaper(made, { summary: "", edits: again });
    expect(after.sheets[0]?.values.slice(0, 3).map(([first]) => first)).toEqual([
      "A title",
      "3 lines",
      expect.stringMatching(/^As of 2026-07-06\./),
    ]);
  });

  it("puts a chart more beside its table where there is room above for those before only", () => {
    const made = onPaper(BLANK, { summary: "", edits: resultEdits(BLANK, result(2)) });
    const again = chartsOf(resultEdits(made, result(3, "3 lines")));
    expect(again[2]).toMatchObject({ firstColumn: 5 });
  });

  it("leaves its charts beside the table in a sheet that was made without room above", () => {
    const made = onPaper(BLANK, { summary: "", edits: resultEdits(BLANK, result(0)) });
    const again = chartsOf(resultEdits(made, result(2, "3 lines")));
    expect(again.map(({ firstRow, firstColumn }) => [firstRow, firstColumn])).toEqual([
      [6, 5],
      [24, 5],
    ]);
  });
});
