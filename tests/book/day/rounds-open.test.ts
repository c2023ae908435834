import { describe, expect, it } from "vitest";
import { roundsOpen } from "../../../src/book/day/rounds-open.ts";
import { roundLines } from "../../../src/book/day/round-lines.ts";
import { roundSheets } from "../../../src/book/day/round-sheet.ts";
import { roundsOf } from "../../../src/book/day/rounds.ts";
import { headingColumn, headingRow } from "../../../src/book/sheets/layout.ts";
import { resultEdits } from "../../../src/book/sheets/result.ts";
import type { Edit } from "../../../src/book/workbook/plan.ts";
import { type CellValue, sheetNamed, type Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { day, toSerial } from "../../../src/core/day.ts";
import { checkOf, programme } from "../../scenes/kept-scene.ts";
import { onPaper } from "../../taskpane/paper.ts";

const MONDAY = day("2026-07-06");
const TUESDAY = day("2026-07-07");
const { snapshot, reading } = programme([{ id: "A1" }]);
const MADE = onPaper(snapshot, {
  summary: "",
  edits: roundSheets(roundsOf(snapshot, reading, { monday: MONDAY, sites: [] })).flatMap((sheet) =>
    resultEdits(snapshot, sheet),
  ),
});

/** The book with cells typed into the first row of its round sheet, of the electrode set of A1. */
function typed(cells: Readonly<Record<string, CellValue>>): Snapshot {
  const sheet = sheetNamed(MADE, "Round sheet S01") ?? expect.unreachable();
  const row = headingRow(sheet) + 1;
  const blocks = Object.entries(cells).map(([heading, value]) => ({
    column: headingColumn(sheet, heading) ?? -1,
    rows: [row],
    values: [value],
  }));
  const edits: Edit[] = [{ kind: "fillCells", sheet: sheet.name, blocks, expects: {} }];
  return onPaper(MADE, { summary: "typed on a round", edits });
}

const when = { "Date 1": toSerial(TUESDAY, 1900), "By 1": "LS1" };

describe("round sheets that are not logged", () => {
  it("are nothing while nobody wrote on them", () => {
    expect(roundsOpen(MADE, reading)).toEqual([]);
  });

  it("are told with what ends the life of a part", () => {
    expect(roundsOpen(typed({ ...when, "Crack 1": "x" }), reading)).toEqual([
      "Round sheets hold 1 entry not logged, so no state goes by them: log BOOK --rounds BOOK logs them.",
      "Out of use by the round sheets, whatever its state says: Round sheet S01, row 7: inspected Electrode set of A1 on 2026-07-07, crack.",
    ]);
  });

  it("are told with what cannot be logged as it stands: a crack ticked beside clean is not lost", () => {
    const said = roundsOpen(typed({ ...when, "Clean 1": "x", "Crack 1": "x" }), reading);
    expect(said[1]).toMatch(/^Cannot be logged until it is corrected: .*clean; crack/);
  });

  it("are not told once a log has them", () => {
    const { reading: logged } = programme([{ id: "A1" }], {
      jobs: [checkOf("A1", "SET", TUESDAY)],
    });
    expect(roundsOpen(typed({ ...when, "Clean 1": "x" }), logged)).toEqual([]);
  });
});

describe("a day beside the lot of a new set", () => {
  const jobsOf = (book: Snapshot): string[] =>
    roundLines(book, reading.ours.parts).lines.map(({ entry: { job, finding } }) =>
      [job, finding].join(" "),
    );

  it("is no inspection where no box is ticked", () => {
    expect(jobsOf(typed({ ...when, "Replaced, lot": "L9" }))).toEqual(["replaced "]);
  });

  it("is one where what was found is ticked", () => {
    const both = typed({ ...when, "Crack 1": "x", "Replaced, lot": "L9" });
    expect(jobsOf(both)).toEqual(["inspected crack", "replaced "]);
  });
});
