import { describe, expect, it } from "vitest";
import { judge } from "../../../src/book/columns/judge.ts";
import { beginWorkbook } from "../../../src/book/reading/begin-workbook.ts";
import { allTold, EVERYTHING } from "../../../src/book/reading/workbook.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { cellKey, type Sheet, type Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { finished } from "../../../src/book/workbook/steps.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../scenes/scene.ts";

const JUNE = on("2026-06-02");
const HEADINGS = ["Device", "Electrode set replaced", "Electrode set next due", "Remarks"];

function book(row: readonly Typed[], others: readonly Typed[][] = [], more: Partial<Sheet> = {}) {
  return bookOf([sheetOf("Kit", [HEADINGS, ["V-1", ...row], ...others], more)]);
}

function stateOf(snapshot: Snapshot, reading: Reading): string | undefined {
  const judged = judge(snapshot, reading);
  const set = judged.parts.find(({ code }) => code === "SET");
  return set === undefined ? undefined : judged.rows(set)[0]?.answers.state;
}

describe("a reading before everything is told", () => {
  const texts = ["03/23/2026", "04/14/2026", "05/25/2026"];
  const cell = cellKey(1, 1);
  it.each([
    [
      "swapped day and month",
      book(
        [JUNE],
        texts.map((text, at) => [`W-${at}`, text]),
      ),
    ],
    ["a comment", book([JUNE], [], { comments: new Map([[cell, "not done"]]) })],
    ["a date that moves", book([JUNE], [], { formulas: new Map([[cell, "TODAY()-28"]]) })],
    ["a line through the date", book([JUNE], [], { struck: new Set([cell]) })],
    ["an own limit that cannot be read", book([JUNE, "soon?"])],
    ["a remark", book([JUNE, null, "electrode date unsure"])],
  ])("is not calmer than the whole one beside %s", (_, snapshot) => {
    const begun = finished(beginWorkbook(snapshot, REPORT_DATE, {}, EVERYTHING));
    expect(stateOf(snapshot, begun.reading)).toBe("Check row");
    expect(stateOf(snapshot, finished(allTold(begun)))).toBe("Check row");
  });
});
