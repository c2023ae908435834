import { describe, expect, it } from "vitest";
import { lackingIn, lacks } from "../../../../src/book/reading/counts/lacking-counts.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { cellKey } from "../../../../src/book/workbook/snapshot.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const IDS = ["V-1", "V-2", "V-3"];
const KIT = sheetOf("Kit", [
  ["Device", "Electrode set replaced"],
  ...IDS.map((id): Typed[] => [id, on("2026-05-04")]),
]);
const MONTHS = ["2026-01-01", "2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01"];
const NUMBERS = [28, 31, 26, 30, 27];
const SUM = 142;
const LAST = MONTHS.length;

interface Change {
  readonly below?: readonly (readonly Typed[])[];
  /** A column at the right, its heading first. */
  readonly beside?: readonly Typed[];
  readonly comment?: readonly [row: number, column: number, text: string];
}

/** Devices whose newest count is in doubt, and whether it is said. */
function read({ below = [], beside = [], comment }: Change, kit = KIT) {
  const rows: Typed[][] = [
    ["Device", ...MONTHS.map(on), beside[0] ?? null],
    ...IDS.map((id, at): Typed[] => [id, ...NUMBERS, beside[at + 1] ?? null]),
    ...below.map((row) => [...row]),
  ];
  const comments =
    comment === undefined
      ? {}
      : { comments: new Map([[cellKey(comment[0], comment[1]), comment[2]]]) };
  const reading = readSheets([kit, sheetOf("Tests", rows, comments)]);
  const newest = reading.counts.filter(
    ({ month, device }) =>
      month === Math.max(...reading.counts.map((one) => one.month)) && IDS.includes(device),
  );
  return {
    doubted: newest.flatMap(({ device, count }) => (count === null ? device : [])),
    counted: reading.counts.filter(({ device, count }) => device === "V-1" && count !== null)
      .length,
    isSaid: doubtsSay(reading).join(" ").includes("may lack some"),
  };
}

const ALL = { doubted: IDS, counted: 4, isSaid: true };
const NONE = { doubted: [], counted: 5, isSaid: false };

/** Words that people put beside their counts (common practice, no source). */
describe(lackingIn.name, () => {
  it.each([
    ...[
      "Rescreens are not included.",
      "Only right ears counted",
      "NICU tests are counted separately",
    ],
    ...["Ohne Wiederholungen", "Sans les retests", "Sin repeticiones", "Senza i retest"],
    ...["Sem retestes", "Zonder herhalingen", "Bez powtórzeń"],
  ])("doubts the newest counts of all devices by what stands below: %s", (text) => {
    expect(read({ below: [[], [text]] })).toEqual(ALL);
  });
  it("hears comments: of the sheet and of a month for all, of a device for it alone", () => {
    expect(read({ comment: [0, 0, "first screens only"] })).toEqual(ALL);
    expect(read({ comment: [0, LAST, "provisional, to 20 May only"] })).toEqual(ALL);
    expect(read({ comment: [1, LAST, "only to 15 May"] })).toMatchObject({ doubted: ["V-1"] });
  });
  it("hears a column beside the counts, by its heading or in a cell", () => {
    expect(read({ beside: ["Not counted (paper)", 60, 4, 5] })).toEqual(ALL);
    const comments = ["Comments", "12 more at Oak, not counted here", null, null];
    expect(read({ beside: comments })).toMatchObject({ doubted: ["V-1"], isSaid: true });
  });
  it("takes a sum or a mean above what is there for counts that are missing", () => {
    expect(read({ below: [["Total", 120, 140, 110, 120, 120]] })).toEqual(ALL);
    expect(read({ beside: ["Total", SUM + 60, SUM, SUM] })).toMatchObject({ doubted: ["V-1"] });
    expect(read({ beside: ["Average", 40, 28.4, 28] })).toMatchObject({ doubted: ["V-1"] });
    expect(read({ beside: ["YTD", 200, 200, 200] })).toEqual(ALL);
  });
  it("hears a row of nobody's, and of a part of one device's", () => {
    expect(read({ below: [["not assigned", 7, 7, 7, 7, 7]] })).toEqual(ALL);
    expect(read({ below: [["?", 7, 7, 7, 7, 7]] })).toEqual(ALL);
    expect(read({ below: [["V-2 (loan at Oak)", 7, 7, 7, 7, 7]] })).toMatchObject({
      doubted: ["V-2"],
    });
  });
  it("hears counts under another number of a device", () => {
    const [head = [], ...rows] = KIT.values;
    const kit = {
      ...KIT,
      values: [[...head, "Old ID"], ...rows.map((row, at) => [...row, `X-${at + 1}`])],
    };
    expect(read({ below: [["X-2", 7, 7, 7, 7, 7]] }, kit)).toMatchObject({ doubted: ["V-2"] });
    expect(read({ below: [["X-9", 7, 7, 7, 7, 7]] }, kit)).toMatchObject({ doubted: [] });
  });
  it("doubts none where the sums agree, or other things are said", () => {
    expect(read({})).toEqual(NONE);
    expect(read({ below: [["Total", 84, 93, 78, 90, 81]] })).toEqual(NONE);
    expect(read({ below: [["Total", 84, 93, 98, 90, 81]] })).toEqual(NONE);
    expect(read({ beside: ["Total", SUM, SUM, SUM] })).toEqual(NONE);
    expect(read({ beside: ["Average", 28, 28, 29] })).toEqual(NONE);
    expect(read({ beside: ["Comments", "busy ward", "new staff", "moved to Oak"] })).toEqual(NONE);
    expect(read({ below: [[], ["Counted by the ward each month"]] })).toEqual(NONE);
    expect(read({ comment: [1, LAST, "checked with the ward"] })).toEqual(NONE);
    expect(lacks("complete, nothing is missing")).toBe(false);
  });
});
