import { describe, expect, it } from "vitest";
import { withShelf } from "../../../../src/book/reading/our-sheets/shelf-notes.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { judgedShelf } from "../../../../src/book/records/shelf.ts";
import { headingColumn, headingRow } from "../../../../src/book/sheets/layout.ts";
import type { Edit } from "../../../../src/book/workbook/plan.ts";
import {
  type CellValue,
  sheetNamed,
  type Snapshot,
} from "../../../../src/book/workbook/snapshot.ts";
import { STEADY_DATE, steadyPlan } from "../../../scenes/steady-book.ts";
import { emptyPaper, onPaper } from "../../../taskpane/paper.ts";

const BOOK = onPaper(emptyPaper(), steadyPlan());
const SHEET = sheetNamed(BOOK, "Shelf") ?? expect.unreachable();
const FIRST = headingRow(SHEET) + 1;
const BESIDE = Math.max(...SHEET.values.map((row) => row.length));

/** The book with another cell in the first row of the Shelf. */
function spoilt(heading: string, value: CellValue): Snapshot {
  return filled([headingColumn(SHEET, heading) ?? -1, [FIRST], [value]]);
}

function filled(...cells: readonly (readonly [number, number[], CellValue[]])[]): Snapshot {
  const blocks = cells.map(([column, rows, values]) => ({ column, rows, values }));
  const edits: Edit[] = [{ kind: "fillCells", sheet: "Shelf", blocks, expects: {} }];
  return onPaper(BOOK, { summary: "what people write", edits });
}

const read = (book: Snapshot) => readWorkbook(book, STEADY_DATE);
const units = (book: Snapshot, row = FIRST): number =>
  judgedShelf(read(book)).find(({ item }) => item.row === row)?.onHand ?? 0;
const TRUE = units(BOOK);

describe("the part of a row of the Shelf", () => {
  const [first] = read(BOOK).ours.shelf;

  it.each([
    ...["Electrodes", "Electrode sets", "Elektroden", "Électrodes", "Electrodos", "Elettrodi"],
    ...["Elétrodos", "Elektrodes", "Elektrody"],
  ])("is known by every word that heads its dates: %s", (word) => {
    expect(first?.part).toBe("SET");
    expect(TRUE).toBeGreaterThan(0);
    expect(units(spoilt("Part", word))).toBe(TRUE);
    expect(read(spoilt("Part", word)).problems).toEqual(read(BOOK).problems);
  });

  it.each(["SETS", "CUSHON", "EC", null])(
    "that nobody knows is told above every job: %j",
    (word) => {
      const reading = read(spoilt("Part", word));
      expect(doubtsSay(reading)[0]).toContain(`Shelf!A${FIRST + 1} (Part)`);
      expect(reading.problems.map(({ kind }) => kind)).toContain("unknown part");
    },
  );
});

describe("stock that is there and not to be used", () => {
  it.each([
    ...["recalled", "L200 quarantine", "blocked", "gesperrt", "zurückgerufen", "bloqué", "rappelé"],
    ...["bloqueado", "retirado", "bloccato", "richiamato", "geblokkeerd", "teruggeroepen"],
    ...["zablokowane", "wycofane"],
  ])("is none where its lot says so: %s", (words) => {
    const book = spoilt("Lot", words);
    expect(units(book)).toBe(0);
    expect(read(book).problems.map(({ kind }) => kind)).toContain("remark");
  });

  it.each(["Blocked", "Reserved", "Gesperrt", "Zablokowane"])(
    "is none where a number stands under %s",
    (heading) => {
      const book = filled([BESIDE, [FIRST - 1, FIRST, FIRST + 1], [heading, 3, 0]]);
      expect([units(book), units(book, FIRST + 1)]).toEqual([0, units(BOOK, FIRST + 1)]);
    },
  );

  it("is none where its part is one that was used", () => {
    const book = spoilt("Part", "SET (used)");
    const { ours, problems } = withShelf(book, read(BOOK).ours);
    expect(ours.shelf[0]).toMatchObject({ part: "SET (used)" });
    expect(problems.map(({ kind }) => kind)).toContain("unknown part");
    expect(units(book)).toBe(0);
  });
});

describe("a formula on the Shelf without a result", () => {
  it("counts for nothing, and is told", () => {
    const formula = { text: "5+5", live: false };
    const column = headingColumn(SHEET, "On hand") ?? -1;
    const blocks = [{ column, rows: [FIRST], values: [null], formula }];
    const edits: Edit[] = [{ kind: "fillCells", sheet: "Shelf", blocks, expects: {} }];
    const book = onPaper(BOOK, { summary: "a formula", edits });
    expect(units(book)).toBe(0);
    expect(doubtsSay(read(book))[0]).toContain("(On hand)");
  });
});
