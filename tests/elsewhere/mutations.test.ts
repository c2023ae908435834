import { describe, expect, it } from "vitest";
import { BookError, PatientDataError } from "../../src/book/workbook/errors.ts";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { day } from "../../src/core/day.ts";
import { applyPlan, newWorkbook, openWorkbook, WorkbookError } from "../../src/xlsx/index.ts";
import { mutated, mutatedPackage, mutatedPart, numbers } from "../xlsx/mutations.ts";
import { randomBook } from "../scenes/random-book.ts";
import { workbook } from "../reference/workbooks/full-plan.ts";

const TODAY = day("2026-07-06");
const FIXTURES = ["formulas.xlsx", "tables.xlsx", "bare.xlsx", "untidy.xlsx", "prefixed.xlsx"];
/** A fault beyond which a case counts as hanging, in milliseconds. */
const PATIENCE = 5_000;

interface Tally {
  opened: number;
  refused: number;
  written: number;
  longest: number;
}

/** Opens, reads, adds the columns and opens the result: done, or a sentence. */
function tried(bytes: Uint8Array, tally: Tally, write = true): void {
  const begun = performance.now();
  try {
    const open = openWorkbook(bytes);
    tally.opened += 1;
    const reading = readWorkbook(open.snapshot, TODAY);
    if (write && reading.devices.length > 0) {
      const plan = columnsPlan(open.snapshot, reading, {
        mode: "portable",
        today: TODAY,
        force: false,
      });
      if (plan.edits.length > 0) openWorkbook(applyPlan(open, plan));
      tally.written += 1;
    }
  } catch (error) {
    const isTold = [WorkbookError, BookError, PatientDataError].some(
      (kind) => error instanceof kind,
    );
    if (!isTold || !(error instanceof Error)) throw error;
    expect(error.message.length).toBeGreaterThan(20);
    expect(error.message).not.toMatch(/undefined|NaN|\[object/);
    tally.refused += 1;
  }
  tally.longest = Math.max(tally.longest, performance.now() - begun);
}

describe("damaged workbooks", () => {
  it("end in a result or a sentence in 18,000 cases of changed bytes and parts of the fixtures", () => {
    const random = numbers(7);
    const tally: Tally = { opened: 0, refused: 0, written: 0, longest: 0 };
    for (let run = 0; run < 18_000; run += 1) {
      const name = FIXTURES[run % FIXTURES.length] ?? "";
      tried(
        run % 2 === 0 ? mutated(workbook(name), random) : mutatedPart(name, random),
        tally,
        run % 8 < 2,
      );
    }
    expect(Math.min(tally.opened, tally.refused)).toBeGreaterThan(1_000);
    expect(tally.longest).toBeLessThan(PATIENCE);
  });

  it("end so in 3,000 cases of a register with our sheets, through to the written columns", () => {
    const random = numbers(11);
    const bytes = newWorkbook(randomBook(8, 3, 1900));
    const tally: Tally = { opened: 0, refused: 0, written: 0, longest: 0 };
    for (let run = 0; run < 3_000; run += 1) {
      tried(run % 4 === 0 ? mutated(bytes, random) : mutatedPackage(bytes, random), tally);
    }
    expect(tally.written).toBeGreaterThan(500);
    expect(tally.longest).toBeLessThan(PATIENCE);
  });
});
