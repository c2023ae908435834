import { describe, expect, it } from "vitest";
import { columnsPlan } from "../../../../src/book/columns/columns-plan.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { eachSetting } from "../../../../src/book/records/settings.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import {
  type CellValue,
  sheetNamed,
  type Snapshot,
} from "../../../../src/book/workbook/snapshot.ts";
import { STEADY_DATE, steadyPlan } from "../../../scenes/steady-book.ts";
import { emptyPaper, onPaper } from "../../../taskpane/paper.ts";

const BOOK = onPaper(emptyPaper(), steadyPlan());

/** The book with other cells in the row of a setting. */
function changed(label: string, cells: readonly CellValue[], book = BOOK): Snapshot {
  const row = sheetNamed(book, "Setup")?.values.findIndex(([cell]) => cell === label) ?? -1;
  const blocks = cells.map((value, column) => ({ column, rows: [row], values: [value] }));
  const edits = [{ kind: "fillCells", sheet: "Setup", blocks, expects: {} } as const];
  return onPaper(book, { summary: "a slip of the pen", edits });
}

const ON_SETUP = eachSetting().filter(([, { later }]) => later !== true);

describe("a row of Setup that was lost", () => {
  it.each(ON_SETUP.map(([key, { label }]) => [label, key] as const))(
    "is told above every job, and a careful value stands in for it: %s",
    (label, key) => {
      for (const cells of [[null, null, null], ["Zahlen sind"]]) {
        const reading = readWorkbook(changed(label, cells), STEADY_DATE);
        expect(reading.ours.settings.doubted.has(key)).toBe(true);
        expect(doubtsSay(reading)[0]).toContain(`Setup (${label})`);
      }
    },
  );

  it("makes counts those of babies, whose uses nobody knows without the next row", () => {
    const { settings } = readWorkbook(changed("Counts are", ["Zahlen sind"]), STEADY_DATE).ours;
    expect(settings).toMatchObject({ countsAre: "babies", countsBabies: true });
  });

  it("stays in doubt after the columns were written", () => {
    const book = changed("Sessions per baby", ["Tests je Kind", 2.5]);
    const reading = readWorkbook(book, STEADY_DATE);
    const request = { mode: "portable", today: STEADY_DATE, force: false } as const;
    const after = onPaper(book, columnsPlan(book, reading, request));
    expect(readWorkbook(after, STEADY_DATE).ours.settings.doubted).toEqual(
      new Set(["rescreenFactor"]),
    );
  });

  it("is nothing where the setting came after the Setup", () => {
    const { problems } = readWorkbook(changed("Dates of a part", [null, null, null]), STEADY_DATE);
    expect(problems).toEqual(readWorkbook(BOOK, STEADY_DATE).problems);
  });
});

describe("a name that no setting has", () => {
  it("is told in the check", () => {
    const { problems } = readWorkbook(changed("Spares kept", ["Reserve"]), STEADY_DATE);
    expect(problems.map(({ cause }) => cause)).toContain(
      '"Reserve" is no setting, so nothing is read from its row.',
    );
  });

  it("is none of the choices that Setup remembers", () => {
    const remembered = changed("Dates of a part", ["Register", "Equipment"]);
    expect(readWorkbook(remembered, STEADY_DATE).problems).toEqual(
      readWorkbook(BOOK, STEADY_DATE).problems,
    );
  });
});

describe("Sessions per baby", () => {
  it("is in doubt where it is blank and the counts are babies", () => {
    const babies = changed("Counts are", ["Counts are", "babies"]);
    const doubtedIn = (book: Snapshot) => [
      ...readWorkbook(book, STEADY_DATE).ours.settings.doubted,
    ];
    expect(doubtedIn(babies)).toEqual([]);
    expect(doubtedIn(changed("Sessions per baby", ["Sessions per baby", null], babies))).toEqual([
      "rescreenFactor",
    ]);
  });
});

describe("a formula on Setup without a result", () => {
  it("is told, and a careful value stands in for it", () => {
    const row = sheetNamed(BOOK, "Setup")?.values.findIndex(([c]) => c === "Service level") ?? -1;
    const formula = { text: "0.9+0.09", live: false };
    const blocks = { column: 1, rows: [row], values: [null], formula };
    const edits = [{ kind: "fillCells", sheet: "Setup", blocks: [blocks], expects: {} }] as const;
    const book = onPaper(BOOK, { summary: "a formula", edits });
    const { ours, problems } = readWorkbook(book, STEADY_DATE);
    expect(ours.settings.serviceLevel).toBe(0.9999);
    expect(problems.map(({ cause }) => cause)).toContain(
      "The formula of Service level has no result; 0.9999 applies.",
    );
  });
});
