import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const IDS = ["V-1", "V-2", "V-3", "V-4", "V-5"];
const REGISTER: Typed[][] = [
  ["Device", "Electrode set replaced"],
  ...IDS.map((id): Typed[] => [id, MAY]),
];

/** Counts of two months, and a column beside them. */
function said(heading: Typed, column: (at: number) => Typed): string {
  const rows: Typed[][] = [
    ["Device", on("2026-03-01"), on("2026-04-01"), heading],
    ...IDS.map((id, at): Typed[] => [id, 30 + at, 20 + at, column(at)]),
  ];
  return doubtsSay(readSheets([sheetOf("Kit", REGISTER), sheetOf("Tests", rows)])).join(" ");
}

const DOUBT = "Numbers whose month cannot be read, is to come or stands twice may be newer";

/** What people write above a month (common practice, no source). */
describe("numbers beside the newest month", () => {
  it.each([null, "May*", "May (part)", "05-2026?", "W19", "#REF!"])(
    "put its counts in doubt where their month cannot be read: %s",
    (heading) => {
      expect(said(heading, (at) => 25 + at)).toContain(DOUBT);
    },
  );
  it.each([on("2027-05-01"), on("2026-03-01")])(
    "put them in doubt where their month is to come or there already",
    (heading) => {
      expect(said(heading, (at) => 25 + at)).toContain(DOUBT);
    },
  );
  it("do not where they are sums, few, or of something else", () => {
    expect(said(null, (at) => 50 + 2 * at + 40)).toBe("");
    expect(said(null, (at) => (at === 0 ? 25 : null))).toBe("");
    expect(said("Beds", (at) => 25 + at)).toBe("");
    expect(said("Total", (at) => 50 + 2 * at)).toBe("");
  });
});

describe("counts that stand one column too far", () => {
  const moved = (last: Typed): string => {
    const rows: Typed[][] = [
      ["Device", on("2026-03-01"), on("2026-04-01"), on("2026-05-01")],
      ...IDS.map((id, at): Typed[] => [id, 30 + at, 20 + at, 25 - at]),
      ["V-6", null, 20, 20, last],
    ];
    const register: Typed[][] = [...REGISTER, ["V-6", MAY]];
    return doubtsSay(readSheets([sheetOf("Kit", register), sheetOf("Tests", rows)])).join(" ");
  };
  it("put the newest in doubt, be the last one far above the others or of one device alone", () => {
    expect(moved(66)).toContain(DOUBT);
    expect(moved(180)).toContain(DOUBT);
  });
  it("do not where the first month has none and the last number is a sum or a mean", () => {
    expect(moved(40)).toBe("");
    expect(moved(20)).toBe("");
    expect(moved(null)).toBe("");
  });
});

describe("a month that was copied from the one before", () => {
  const told = (newest: (at: number) => number): string => said(on("2026-05-01"), newest);
  it("is in doubt where all devices have the same counts once more", () => {
    expect(told((at) => 20 + at)).toContain("are those of the month before, device by device");
  });
  it("is not where one differs, or all are one number", () => {
    expect(told((at) => (at === 0 ? 21 : 20 + at))).toBe("");
  });
});
