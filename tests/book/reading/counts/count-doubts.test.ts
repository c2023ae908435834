import { describe, expect, it } from "vitest";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { cellKey, type Sheet } from "../../../../src/book/workbook/snapshot.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MONTHS = [
  "2025-10",
  "2025-11",
  "2025-12",
  "2026-01",
  "2026-02",
  "2026-03",
  "2026-04",
  "2026-05",
];
const KIT = sheetOf("Kit", [
  ["Device", "Site", "Electrode set replaced"],
  ...["V-1", "V-2"].map((id): Typed[] => [id, "Alder", on("2026-05-04")]),
]);

function read(rows: readonly (readonly number[])[], more: Partial<Sheet> = {}) {
  const counts = rows.map((row, at): Typed[] => [`V-${at + 1}`, ...row]);
  const book = bookOf([KIT, sheetOf("Tests", [["Device", ...MONTHS], ...counts], more)]);
  const reading = readWorkbook(book, REPORT_DATE);
  return { before: doubtsSay(reading).join(" "), counts: reading.counts };
}

const USES = [
  [41, 38, 44, 40, 37, 42, 39, 43],
  [30, 33, 29, 31, 35, 30, 28, 32],
];
const readings = (from: number): number[][] =>
  USES.map((row) => row.map((_, at) => row.slice(0, at + 1).reduce((sum, one) => sum + one, from)));

/** That counters are read off month by month: common practice, no source. */
describe("numbers that never fall", () => {
  it.each([1200, 0])(
    "on any device are readings of counters, in doubt and told: from %i",
    (from) => {
      const { before, counts } = read(readings(from));
      expect(before).toContain(
        'Counts of "V-1" and "V-2" (2025-10 to 2026-05) never fall from month to month, as readings of a counter do, so they are in doubt and lengthen no interval.',
      );
      expect(counts.every(({ count }) => count === null)).toBe(true);
    },
  );

  it.each([
    ["fall", USES],
    ["fall on one of two devices", [readings(1200)[0] ?? [], USES[1] ?? []]],
    ["never rise", USES.map((row) => row.map(() => 140))],
  ])("are uses where they %s", (_, rows) => {
    expect(read(rows).before).not.toContain("counter");
  });
});

describe("counts that are marked", () => {
  const cell = cellKey(1, MONTHS.length);
  it.each([
    ["struck through", { struck: new Set([cell]) }],
    ...["not sure", "estimated", "wrong?", "unsicher"].map((text): [string, Partial<Sheet>] => [
      `commented "${text}"`,
      { comments: new Map([[cell, text]]) },
    ]),
  ] as [string, Partial<Sheet>][])("are in doubt where they are %s", (_, more) => {
    const { before, counts } = read(USES, more);
    expect(before).toContain('Counts of "V-1" (2026-05) are struck through or have a comment');
    expect(counts.filter(({ count }) => count === null)).toHaveLength(1);
  });

  it("are not where the comment says nothing against them", () => {
    const comments = new Map([[cell, "two wards since May"]]);
    expect(read(USES, { comments }).before).toBe("");
  });
});
