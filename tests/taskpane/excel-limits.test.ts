import { describe, expect, it } from "vitest";
import type { Area, Snapshot } from "../../src/book/workbook/snapshot.ts";
import { cutBlock } from "../../taskpane/excel/area.ts";
import { randomBook } from "../scenes/random-book.ts";
import { knowAnswers } from "../stand-in/answers.ts";
import { Fault } from "../stand-in/thing.ts";
import { differences } from "./contract.ts";
import { bookOf, columnsOn, type Desk, deskOf, faultOf } from "./desk.ts";
import { emptyPaper, onPaper, paperSheet } from "./paper.ts";

/** A register of so many rows with our columns, whose formulas are long. */
async function withColumns(rows: number): Promise<Desk> {
  const desk = deskOf(onPaper(emptyPaper(), randomBook(rows, 7, 1900)));
  const plan = columnsOn(await desk.host.snapshot());
  knowAnswers(desk.model, plan);
  await desk.host.apply(plan);
  return desk;
}

/** Pairs of cells merged side by side, one in each row. */
function mergedBook(rows: number): Snapshot {
  const merges = Array.from({ length: rows }, (_, row): Area => ({
    firstRow: row,
    lastRow: row,
    firstColumn: 0,
    lastColumn: 1,
  }));
  const values = merges.map((_, row) => [`Row ${row}`, null, "x"]);
  return bookOf({ ...paperSheet("Merged", values), merges });
}

describe("answers of Excel on the web, which refuses those of more than 5 MB", () => {
  it("are asked for in fewer rows where formulas are long", async () => {
    const { host, executor } = await withColumns(2000);
    Object.assign(executor.tally, { syncs: 0, largestAnswer: 0 });
    const read = await host.snapshot();
    const { syncs, largestAnswer } = executor.tally;
    process.stdout.write(
      `2000 rows with long formulas: ${syncs} requests, the largest answer ${largestAnswer} bytes\n`,
    );
    expect(largestAnswer).toBeLessThan(5_000_000);
    expect(largestAnswer).toBeGreaterThan(1_000_000);
    expect(read.sheets[0]?.formulas.size).toBeGreaterThan(2000 * 5);
  });

  it("are asked for in halves down to a part of a row, and the book is the same", async () => {
    const { host, executor } = await withColumns(12);
    const whole = await host.snapshot();
    executor.before = ({ Actions }) => {
      const cells = Actions.filter(({ QueryInfo }) => QueryInfo?.Select?.includes("formulas"));
      if (cells.length > 1) throw new Fault("ResponsePayloadSizeLimitExceeded", "too large");
    };
    expect(differences(await host.snapshot(), whole)).toEqual([]);
  });

  it("are told where even one cell is refused", async () => {
    const { host, executor } = deskOf(bookOf(paperSheet("Notes", [["Note"]])));
    executor.before = ({ Actions }) => {
      if (Actions.some(({ QueryInfo }) => QueryInfo?.Select?.includes("formulas"))) {
        throw new Fault("ResponsePayloadSizeLimitExceeded", "too large");
      }
    };
    expect(await faultOf(host.snapshot())).toBe(
      "The sheet is too large for Excel on the web. Use Excel on a computer.",
    );
  });
});

describe("a block", () => {
  const block = { firstRow: 3, firstColumn: 2, rows: 4, columns: 5 };

  it.each([1, 2, 4, 5, 7, 10, 19, 20, 99])("is cut into parts of at most %i cells", (most) => {
    const cells: string[] = [];
    let open = [block];
    while (open[0] !== undefined) {
      const [{ firstRow, firstColumn, rows, columns }, ...rest] = cutBlock(open[0], most);
      expect(rows * columns).toBeLessThanOrEqual(most);
      for (let row = firstRow; row < firstRow + rows; row += 1) {
        for (let at = firstColumn; at < firstColumn + columns; at += 1) cells.push(`${row} ${at}`);
      }
      open = [...rest, ...open.slice(1)];
    }
    const all = [3, 4, 5, 6].flatMap((row) => [2, 3, 4, 5, 6].map((at) => `${row} ${at}`));
    expect(cells).toEqual(all);
  });
});

describe("merged cells, of which Excel tells 512 in a range", () => {
  it.each([500, 512, 2000])("are all read: %i of them", async (rows) => {
    const book = mergedBook(rows);
    const { host } = deskOf(book);
    const [read] = (await host.snapshot()).sheets;
    expect(read?.merges).toHaveLength(rows);
  });

  it("are all read where a row has many", async () => {
    const merges = Array.from({ length: 900 }, (_, at): Area => {
      const [row, first] = [Math.floor(at / 3), 2 * (at % 3)];
      return { firstRow: row, lastRow: row, firstColumn: first, lastColumn: first + 1 };
    });
    const values = Array.from({ length: 300 }, (_, row) => [row, null, "a", null, "b", null, "c"]);
    const { host } = deskOf(bookOf({ ...paperSheet("Merged", values), merges }));
    expect((await host.snapshot()).sheets[0]?.merges).toHaveLength(900);
  });
});
