import { describe, expect, it, vi } from "vitest";
import { cellKey, sheetNamed, valueAt } from "../../src/book/workbook/snapshot.ts";
import { differences } from "./contract.ts";
import { bookOf, columnsOn, DEMO, deskOf, fill, planOf } from "./desk.ts";
import { emptyPaper, onPaper, paperSheet } from "./paper.ts";
import { randomBook } from "../scenes/random-book.ts";
import { knowAnswers } from "../stand-in/answers.ts";
import type { Executor } from "../stand-in/executor.ts";
import { cases } from "../cases.ts";

/** Rows of the long register. */
const ROWS = cases("Rows of a long register in Excel", 10_000, 2_000);

/** Longest stretch in milliseconds that a page would have had to wait, what Excel does left out. */
async function longestWait(executor: Executor, work: Promise<unknown>): Promise<number> {
  let [longest, running] = [0, true];
  const ended = work.finally(() => (running = false));
  while (running) {
    const [began, spent] = [performance.now(), executor.tally.spent];
    await new Promise((resolve) => setImmediate(resolve));
    const waited = performance.now() - began - (executor.tally.spent - spent);
    longest = Math.max(longest, waited);
  }
  await ended;
  return longest;
}

describe("requests", () => {
  it("are as many for a short sheet as for a hundred rows more", async () => {
    const counts: number[] = [];
    for (const rows of [100, 200]) {
      const { host, executor, model } = deskOf(onPaper(emptyPaper(), randomBook(rows, 7, 1900)));
      const plan = columnsOn(await host.snapshot());
      knowAnswers(model, plan);
      const before = executor.tally.syncs;
      await host.apply(plan);
      counts.push(executor.tally.syncs - before);
    }
    const [short = 0, long = 0] = counts;
    expect(long - short).toBeLessThanOrEqual(1);
    expect(long).toBeLessThanOrEqual(12);
  });

  it(`of a register of ${ROWS} rows stay below 5 MB, and the page is never kept waiting`, async () => {
    const { host, executor, model } = deskOf(onPaper(emptyPaper(), randomBook(ROWS, 7, 1900)));
    const { tally } = executor;
    const told: number[] = [];
    const reading = host.snapshot((share) => told.push(share));
    const waited = [await longestWait(executor, reading)];
    const reads = { syncs: tally.syncs, largest: tally.largest };
    const before = await reading;
    const plan = columnsOn(before);
    knowAnswers(model, plan);
    Object.assign(tally, { syncs: 0, largest: 0, bytes: 0, spent: 0 });
    const began = performance.now();
    const applying = host.apply(plan, (share) => told.push(share));
    waited.push(await longestWait(executor, applying));
    const took = performance.now() - began;
    const { syncs, largest, bytes, spent } = tally;
    const backs = { ...tally, used: null };
    waited.push(await longestWait(executor, host.takeBack(await applying)));
    const back = { syncs: tally.syncs - backs.syncs, bytes: tally.bytes - backs.bytes };
    process.stdout.write(
      `${ROWS} rows: read in ${reads.syncs} requests, the largest ${reads.largest} bytes; ` +
        `${plan.edits.length} edits in ${syncs} requests of ${bytes} bytes, the largest ${largest}, ` +
        `${took.toFixed(0)} ms, ${spent.toFixed(0)} of them in the stand-in; ` +
        `taken back in ${back.syncs} requests of ${back.bytes} bytes; ` +
        `longest waits ${waited.map((ms) => ms.toFixed(0)).join(", ")} ms\n`,
    );
    expect(reads.syncs).toBeLessThanOrEqual(14);
    expect(syncs).toBeLessThanOrEqual(40);
    expect(back.syncs).toBeLessThanOrEqual(80);
    expect(tally.largest).toBeLessThan(2_000_000);
    expect(told.every((share) => share >= 0 && share <= 1)).toBe(true);
    expect(told.length).toBeGreaterThan(20);
    expect(differences(await host.snapshot(), before)).toEqual([]);
  }, 60_000);

  it("carry long texts of any script below 5 MB each", async () => {
    const text = "ع".repeat(3000);
    const rows = Array.from({ length: 1500 }, (_, at) => at + 1);
    const { host, executor } = deskOf(bookOf(paperSheet("Notes", [["Note"]])));
    await host.apply(
      planOf(
        fill(
          "Notes",
          rows,
          rows.map(() => text),
        ),
      ),
    );
    expect(executor.tally.bytes).toBeGreaterThan(9_000_000);
    expect(executor.tally.largest).toBeLessThan(5_000_000);
  });

  it("carry number formats of very long columns in pieces", async () => {
    const rows = Array.from({ length: 120_000 }, (_, at) => at + 1);
    const { host, executor } = deskOf(bookOf(paperSheet("Notes", [["Note"]])));
    const formula = { text: "ROW($A{r})", live: false };
    const column = { column: 1, rows, values: [], formula, format: "yyyy-mm-dd" };
    await host.apply(planOf({ kind: "fillCells", sheet: "Notes", blocks: [column], expects: {} }));
    expect(executor.tally.largest).toBeLessThan(1_500_000);
    expect(executor.tally.bytes).toBeLessThan(3_000_000);
  });

  it("leave the empty stretches before a stray cell far away out", async () => {
    const { host, executor, model } = deskOf(bookOf(paperSheet("Notes", [["Note"]])));
    const stray = { value: "stray", formula: null, format: "General" };
    model.sheets[0]?.cells.set(cellKey(1_048_575, 16_383), stray);
    const [sheet] = (await host.snapshot()).sheets;
    expect(sheet && [valueAt(sheet, 0, 0), valueAt(sheet, 1_048_575, 16_383)]).toEqual([
      "Note",
      "stray",
    ]);
    expect(executor.tally.syncs).toBeLessThanOrEqual(9);
  });
});

describe("reading Excel", () => {
  it("finds hidden rows by cutting, in requests that stay small however many there are", async () => {
    const rows = Array.from({ length: 10_000 }, (_, row) => [`D${row}`]);
    const hiddenRows = new Set(
      [...rows.keys()].filter((row) => row % 2 === 1 || (row > 50 && row < 90)),
    );
    const hiddenColumns = new Set([0]);
    const { host, executor } = deskOf(
      bookOf({ ...paperSheet("Notes", rows), hiddenRows, hiddenColumns }),
    );
    const [sheet] = (await host.snapshot()).sheets;
    expect([...(sheet?.hiddenRows ?? [])].sort((one, other) => one - other)).toEqual([
      ...hiddenRows,
    ]);
    expect(sheet?.hiddenColumns).toEqual(hiddenColumns);
    expect(executor.tally.largest).toBeLessThan(3_000_000);
  });

  it("tells a 1904 workbook from one of 1900", async () => {
    expect((await deskOf({ ...DEMO, dateSystem: 1904 }).host.snapshot()).dateSystem).toBe(1904);
    expect((await deskOf(DEMO).host.snapshot()).dateSystem).toBe(1900);
  });

  it("prefers the filter that hides rows, be it the sheet's or a table's", async () => {
    const shelf = sheetNamed(DEMO, "Shelf");
    const { host, model } = deskOf(bookOf(...(shelf === null ? [] : [shelf])));
    const sheet = model.sheets[0];
    const own = { firstRow: 40, firstColumn: 0, lastRow: 42, lastColumn: 1 };
    const filterNow = async () => (await host.snapshot()).sheets[0]?.filter;
    if (sheet === undefined) throw new Error("no sheet");
    sheet.filter = { area: own, active: false };
    for (const table of sheet.tables) table.filtered = true;
    expect(await filterNow()).toEqual({ area: shelf?.tables[0]?.area, active: true });
    for (const table of sheet.tables) table.filtered = false;
    sheet.filter = { area: own, active: true };
    expect(await filterNow()).toEqual({ area: own, active: true });
  });

  it("reads the names of the workbook, whichever workbook is looked at", async () => {
    const names = [
      { name: "Here", sheet: null, refersTo: "Notes!$A$1" },
      { name: "Here", sheet: "Notes", refersTo: "Notes!$A$2" },
    ];
    const { host, model } = deskOf({ ...bookOf(paperSheet("Notes", [["Note"]])), names });
    model.temper.isElsewhere = true;
    expect((await host.snapshot()).names).toEqual(names.slice(0, 1));
  });

  it("tells the selected cell, and nothing where no cells are selected", async () => {
    const { host, model } = deskOf(DEMO);
    await host.select({ sheet: "Setup", row: 4, column: 1 });
    expect(await host.selected()).toEqual({ sheet: "Setup", row: 4, column: 1 });
    model.selection = null;
    expect(await host.selected()).toBeNull();
  });

  it("hears of changes by anybody without writing or asking, until it is stopped", async () => {
    const { host, executor, model, changed } = deskOf(DEMO);
    const heard = vi.fn();
    const stop = host.changed(heard);
    await vi.waitFor(() => {
      expect(executor.tally.used).toContain("WorksheetCollection._RegisterDataChangedEvent()");
    });
    await new Promise((resolve) => setTimeout(resolve, 20));
    const [syncs, written] = [executor.tally.syncs, model.written.length];
    const [sheet] = model.sheets;
    if (sheet === undefined) throw new Error("no sheet");
    changed(sheet, "A4", "Local");
    changed(sheet, "A5", "Remote");
    await vi.waitFor(() => {
      expect(heard).toHaveBeenCalledTimes(2);
    });
    expect([executor.tally.syncs, model.written.length]).toEqual([syncs, written]);
    stop();
    changed(sheet, "A6", "Local");
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(heard).toHaveBeenCalledTimes(2);
  });
});
