import { describe, expect, it } from "vitest";
import { on, readSheets, sheetOf, type Typed } from "../../scenes/scene.ts";

const refusal = (rows: readonly Typed[][]): string => {
  try {
    readSheets([sheetOf("Kit", rows)]);
  } catch (error) {
    return error instanceof Error ? error.message : "";
  }
  return "";
};

const DATES: Typed[] = [on("2026-05-04"), on("2026-04-04")];
const PARTS = ["Electrodes replaced", "Cushions replaced"];
const rowsOf = (names: readonly Typed[][]): Typed[][] => names.map((one) => [...one, ...DATES]);
const UNITS = ["Q1", "Q2", "Q3", "Q4"];

/** Registers without a heading over their devices. */
describe("without a heading that names the devices, what is to be done", () => {
  it.each([
    ["A", [null, "Site", ...PARTS], rowsOf(UNITS.map((unit) => [unit, "Alder"]))],
    ["B", ["Site", null, ...PARTS], rowsOf(UNITS.map((unit) => ["Alder", unit]))],
  ] as [string, Typed[], Typed[][]][])(
    "is a heading over column %s, and no other column is proposed",
    (letter, heads, rows) => {
      const said = refusal([heads, ...rows]);
      expect(said).toContain(
        `write Device over column ${letter}, which seems to name them and has no heading`,
      );
      expect(said).not.toContain("--match");
      const headed = heads.map((head) => head ?? "Device");
      expect(readSheets([sheetOf("Kit", [headed, ...rows])]).devices.map(({ id }) => id)).toEqual(
        UNITS,
      );
    },
  );

  const types = ["Screener A", "Screener B"].flatMap((type) => [1, 2, 3].map((no) => [type, no]));

  it("is one column of both where two name them together", () => {
    const said = refusal([
      ["Type", "No.", "Site", ...PARTS],
      ...rowsOf(types.map((one) => [...one, "Alder"])),
    ]);
    expect(said).toContain(
      '"Type" and "No." name each device together: write both into one column headed Device, such as "Screener A 1", in the counts and in the Job log too',
    );
    const done = rowsOf(types.map((one) => [one.join(" "), "Alder"]));
    const { devices } = readSheets([sheetOf("Kit", [["Device", "Site", ...PARTS], ...done])]);
    expect(new Set(devices.map(({ key }) => key)).size).toBe(6);
  });

  it("is no choice of a column that repeats itself", () => {
    const said = refusal([
      ["Type", "Site", ...PARTS],
      ...rowsOf([
        ["A", "Alder"],
        ["A", "Alder"],
        ["A", "Alder"],
      ]),
    ]);
    expect(said).toContain("write Device over the column that names the devices, one in each row");
    expect(said).not.toContain("--match");
  });
});
