import { describe, expect, it } from "vitest";
import { DEMO_SEED, demoBook } from "../../../src/book/demo/workbook.ts";
import { REPORT_DATE } from "../../../src/book/demo/programme.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { emptyPaper, onPaper } from "../../taskpane/paper.ts";
import { cases } from "../../cases.ts";

/** Any seed makes a programme; the shown one and some others are tried. */
const SEEDS = [DEMO_SEED, 1, 2, 3, 4, 5, 6, 7].slice(0, cases("Demonstrations", 8, 3));

function read(seed: number, untidy: boolean): Reading {
  const snapshot = onPaper(emptyPaper(), demoBook(seed, untidy).plan);
  return readWorkbook(snapshot, REPORT_DATE, { reportDate: REPORT_DATE });
}

const told = ({ problems }: Reading): string[] =>
  problems
    .map(({ kind, sheet, row, heading }) =>
      [kind, sheet, row === null ? "all" : row + 1, heading].join(" | "),
    )
    .sort();

describe("the demonstration programme", () => {
  it.each(SEEDS)("of seed %i is clean where it is said to be clean", (seed) => {
    const reading = read(seed, false);
    expect(told(reading)).toEqual([]);
    expect(reading.devices).toHaveLength(35);
    expect(reading.devices.filter((device) => !device.retired)).toHaveLength(34);
  });

  it.each(SEEDS)("of seed %i has every planted fault found and nothing else", (seed) => {
    const answers = demoBook(seed, true).answers.map(({ kind, sheet, row, heading }) =>
      [kind, sheet, row ?? "all", heading].join(" | "),
    );
    expect(told(read(seed, true))).toEqual(answers.sort());
  });

  it("is the same for the same seed and another for another", () => {
    expect(demoBook(1, true)).toEqual(demoBook(1, true));
    expect(demoBook(1, true)).not.toEqual(demoBook(2, true));
  });
});
