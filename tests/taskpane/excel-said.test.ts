import { describe, expect, it } from "vitest";
import { cellKey, type CellValue, sheetNamed } from "../../src/book/workbook/snapshot.ts";
import { civilDay, toSerial } from "../../src/core/day.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { bookOf, deskOf } from "./desk.ts";
import { paperSheet } from "./paper.ts";

const TODAY = civilDay(2026, 7, 6);
const DATE = toSerial(civilDay(2026, 6, 1), 1900);
const HEADINGS = ["Device", "Electrode set replaced", "Ear cushion replaced"];

function register(rows: number): CellValue[][] {
  const lines = Array.from({ length: rows }, (_, at) => [`V-${at + 1}`, DATE, DATE]);
  return [HEADINGS, ...lines];
}

/** A register of so many devices in Excel. */
function kit(rows: number) {
  const desk = deskOf(bookOf(paperSheet("Kit", register(rows))));
  const [sheet] = desk.model.sheets;
  if (sheet === undefined) throw new Error("no sheet");
  return { ...desk, sheet };
}

describe("struck cells of a workbook in Excel", () => {
  it("are found, in whole or in part, with few requests among 5,000 rows", async () => {
    const { host, executor, sheet } = kit(5000);
    const plain = await host.snapshot();
    expect(sheetNamed(plain, "Kit")?.struck).toBeUndefined();
    const before = executor.tally.syncs;
    const struck = [cellKey(7, 1), cellKey(8, 1), cellKey(4999, 2)];
    for (const key of struck.slice(0, 2)) sheet.struck.add(key);
    sheet.struckInPart.add(cellKey(4999, 2));
    const found = sheetNamed(await host.snapshot(), "Kit")?.struck;
    expect([...(found ?? [])].sort((one, other) => one - other)).toEqual(struck);
    expect(executor.tally.syncs - before).toBeLessThanOrEqual(2 * before);
  });

  it("are all of a sheet that is struck as a whole", async () => {
    const { host, sheet } = kit(3);
    for (let row = 0; row <= 3; row += 1)
      for (let column = 0; column < 3; column += 1) sheet.struck.add(cellKey(row, column));
    const found = sheetNamed(await host.snapshot(), "Kit")?.struck;
    expect(found).toEqual(sheet.struck);
  });

  it("give no date to count from", async () => {
    const { host, sheet } = kit(3);
    sheet.struck.add(cellKey(1, 1));
    const { problems } = readWorkbook(await host.snapshot(), TODAY);
    const told = problems.filter(({ kind }) => kind === "struck out");
    expect(told.map(({ row, column }) => [row, column])).toEqual([[1, 1]]);
  });
});

describe("comments of a workbook in Excel", () => {
  it("are read with their answers, and absent where there are none", async () => {
    const { host, sheet } = kit(3);
    expect(sheetNamed(await host.snapshot(), "Kit")?.comments).toBeUndefined();
    sheet.comments = [
      { id: "{c1}", cell: cellKey(1, 1), said: ["Is this date right?", "No, not replaced then."] },
      { id: "{c2}", cell: cellKey(2, 2), said: [" Lot 17 "] },
    ];
    const found = sheetNamed(await host.snapshot(), "Kit")?.comments;
    expect([...(found ?? [])]).toEqual([
      [cellKey(1, 1), "Is this date right?\nNo, not replaced then."],
      [cellKey(2, 2), "Lot 17"],
    ]);
  });

  it("that withdraw a date put it in doubt, as in a file", async () => {
    const { host, sheet } = kit(3);
    sheet.comments = [{ id: "{c1}", cell: cellKey(1, 1), said: ["date is a guess"] }];
    const { devices, problems } = readWorkbook(await host.snapshot(), TODAY);
    expect(problems.some(({ row, column }) => row === 1 && column === 1)).toBe(true);
    expect(devices).toHaveLength(3);
  });
});
