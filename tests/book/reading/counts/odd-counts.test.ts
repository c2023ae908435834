import { describe, expect, it } from "vitest";
import { oddCounts } from "../../../../src/book/reading/counts/odd-counts.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { cellKey } from "../../../../src/book/workbook/snapshot.ts";
import { addMonths, type Day, day, isoText } from "../../../../src/core/day.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const IDS = ["V-1", "V-2", "V-3", "V-4", "V-5"];
const KIT = sheetOf("Kit", [
  ["Device", "Electrode set replaced"],
  ...IDS.map((id): Typed[] => [id, on("2026-05-04")]),
]);
const FIRST = day("2025-06-01");
const MONTHS = Array.from({ length: 12 }, (_, at) => addMonths(FIRST, at));
/** Counts of no device or month alike. */
const usual = (device: number, month: number): number => 40 + 9 * device + ((7 * month) % 5);

interface Read {
  readonly said: string;
  /** Months of which counts are taken, of the first device. */
  readonly counted: number;
}

function read(rows: Typed[][], more: Parameters<typeof sheetOf>[2] = {}): Read {
  const reading = readSheets([KIT, sheetOf("Tests", rows, more)]);
  const own = reading.counts.filter(({ device, count }) => device === "V-1" && count !== null);
  return { said: doubtsSay(reading).join(" "), counted: own.length };
}

const date = (month: Day): Typed => on(isoText(month));

/** A column for each month, and a row for each device and month. */
function both(count: (device: number, month: number) => Typed): Read[] {
  const wide = [
    ["Device", ...MONTHS.map(date)],
    ...IDS.map((id, device): Typed[] => [id, ...MONTHS.map((_, month) => count(device, month))]),
  ];
  const long = MONTHS.flatMap((month, at) =>
    IDS.map((id, device): Typed[] => [id, date(month), count(device, at)]),
  );
  return [read(wide), read([["Device", "Month", "Uses"], ...long])];
}

describe(oddCounts.name, () => {
  it("takes counts as they are where nothing changed for all devices", () => {
    for (const one of both(usual)) expect(one).toEqual({ said: "", counted: 12 });
  });
  it.each([1, 3, 6, 8])("doubts newest months, %s, that fell together", (months) => {
    const fallen = (device: number, month: number): number =>
      Math.round(usual(device, month) / (month >= 12 - months ? 4 : 1));
    for (const { said, counted } of both(fallen)) {
      expect(said).toContain("are far below those of the month before, of nearly all devices");
      expect(counted).toBe(12 - months);
    }
  });
  it("doubts none where they came up again, or one device alone fell", () => {
    const dip = (device: number, month: number): number =>
      month === 9 ? Math.round(usual(device, month) / 4) : usual(device, month);
    const alone = (device: number, month: number): number =>
      device === 0 && month > 8 ? 9 : usual(device, month);
    for (const count of [dip, alone]) {
      for (const { said } of both(count)) expect(said).toBe("");
    }
  });
  it.each([1, 3])("doubts newest months, %s, of one number for all devices", (months) => {
    const filled = (device: number, month: number): number =>
      month >= 12 - months ? 47 : usual(device, month);
    for (const { said, counted } of both(filled)) {
      expect(said).toContain("are one and the same number for all devices");
      expect(counted).toBe(12 - months);
    }
  });
  it("doubts none where every month is one number, or the number is small", () => {
    for (const { said } of both(() => 47)) expect(said).toBe("");
    for (const { said } of both((device, month) => (month > 10 ? 2 : 1 + device))) {
      expect(said).not.toContain("the same number");
    }
  });
});

describe("a sheet of counts", () => {
  const wide = (count: (device: number, month: number) => Typed): Typed[][] => [
    ["Device", ...MONTHS.map(date)],
    ...IDS.map((id, device): Typed[] => [id, ...MONTHS.map((_, month) => count(device, month))]),
  ];
  it("is in doubt where many numbers are below zero", () => {
    const some = (from: number) => (device: number, month: number) =>
      month === from || month === 5 ? -3 : usual(device, month);
    expect(read(wide(some(3)))).toMatchObject({ counted: 0 });
    expect(read(wide(some(3))).said).toContain('Many numbers of "Tests" are below zero');
    const few = (device: number, month: number): number =>
      device === 1 && month < 3 ? -3 : usual(device, month);
    expect(read(wide(few))).toEqual({ said: "", counted: 12 });
  });
  it("is in doubt where its numbers or its devices were moved down by a row", () => {
    const [head = [], ...rows] = wide(usual);
    const ids = rows.map(([id = null]) => id);
    const blank: Typed[] = MONTHS.map(() => null);
    const numbers = rows.map(([, ...own]) => own);
    const moved = [null, ...numbers].map((own, at) => [ids[at] ?? null, ...(own ?? blank)]);
    const led = [null, ...ids].map((id, at) => [id, ...(numbers[at] ?? blank)]);
    for (const cells of [moved, led]) {
      const { said, counted } = read([head, ...cells]);
      expect(said).toContain('Columns of "Tests" were moved up or down by a row');
      expect(counted).toBe(0);
    }
  });
  it("is not where the first device has no counts and sums stand below", () => {
    const [head = [], first = [], ...rows] = wide(usual);
    const sums = MONTHS.map((_, at) => rows.reduce((sum, row) => sum + Number(row[at + 1]), 0));
    const cells = [head, [first[0] ?? null], ...rows, [null, ...sums]];
    expect(read(cells).said).not.toContain("moved");
  });
  it("has its newest counts in doubt where the last rows of a list have a month before", () => {
    const long = (last: Day): Typed[][] => [
      ["Device", "Month", "Uses"],
      ...MONTHS.flatMap((month, at) =>
        IDS.map((id, device): Typed[] => [id, date(at === 11 ? last : month), usual(device, at)]),
      ),
    ];
    for (const last of [day("2025-05-01"), day("2022-06-01")]) {
      expect(read(long(last)).said).toContain(
        '"Tests" goes by months and ends with an earlier one',
      );
    }
    const [head = [], ...rows] = long(day("2025-05-01"));
    expect(read([head, ...rows.reverse()]).said).toContain("ends with an earlier one");
    expect(read(long(MONTHS[11] ?? FIRST)).said).toBe("");
    const byDevice = IDS.flatMap((id) => rows.filter(([one]) => one === id));
    expect(read([head, ...byDevice.slice(0, 24)]).said).toBe("");
  });
  it("doubts formulas without a result", () => {
    const rows = wide((device, month) => (month === 11 ? null : usual(device, month)));
    const formulas = new Map(IDS.map((_, at) => [cellKey(at + 1, 12), "SUM(A1:A9)"] as const));
    const reading = readSheets([KIT, sheetOf("Tests", rows, { formulas })], oursOf());
    const newest = reading.counts.filter(({ month }) => month === MONTHS[11]);
    expect(newest.every(({ count, faulty }) => count === null && faulty)).toBe(true);
    const told = reading.problems.filter(({ kind }) => kind === "count missing");
    expect(told.map(({ cause }) => cause)[0]).toBe(
      "The formula in the cell has no result, so there is no count.",
    );
    expect(told).toHaveLength(5);
  });
});
