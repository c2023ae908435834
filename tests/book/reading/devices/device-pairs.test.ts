import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const said = (rows: readonly Typed[][], matches: [string, string][] = []): string => {
  const ours = oursOf();
  const settings = { ...ours.settings, matches: new Map(matches) };
  return doubtsSay(readSheets([sheetOf("Kit", rows)], { ...ours, settings })).join(" ");
};
const TYPES: (string | number)[][] = ["Screener A", "Screener B"].flatMap((type) =>
  [1, 2, 3].map((number) => [type, number]),
);
const register = (heads: Typed[], names: readonly Typed[][]): Typed[][] => [
  [...heads, "Site", "Electrode set replaced"],
  ...names.map((one) => [...one, "Alder", MAY]),
];

/** Devices named by type and number, as inventories do (common practice, no source). */
describe("devices of which one heading says the type and another the number", () => {
  it.each([
    ["Device", "No."],
    ["Device type", "Device no."],
  ])("are told how to be named: %s, %s", (type, number) => {
    const text = said(register([type, number], TYPES));
    expect(text).toContain(`"${type}" and "${number}" together say another text in each.`);
    expect(text).toContain('such as "Screener A 1", in the counts and in the Job log too');
  });

  it("are not meant where each row is for a part of a device", () => {
    const rows = ["V-1", "V-2", "V-3"].flatMap((id) => [
      [id, "Electrode set"],
      [id, "Ear cushion"],
    ]);
    expect(said(register(["Device", "Part"], rows))).not.toContain("together");
  });

  it("are no longer, once that is done", () => {
    const done = TYPES.map((one): Typed[] => [one.join(" "), one[1] ?? null]);
    expect(said(register(["Device", "No."], done))).toBe("");
  });

  it("are told the column that names each by itself", () => {
    const rows = register(
      ["Equipment", "No."],
      TYPES.map((_, at): Typed[] => ["ABR screener", at + 1]),
    );
    expect(said(rows)).toContain('give --match "device=No."');
    expect(said(rows, [["column device", "No."]])).toBe("");
  });

  it("are not where few stand twice, or nothing tells them apart", () => {
    const once = TYPES.map((_, at): Typed[] => [at === 5 ? "U-1" : `U-${at + 1}`, at + 1]);
    expect(said(register(["Device", "No."], once))).toBe("");
    expect(
      said(
        register(
          ["Device", "Colour"],
          TYPES.map((): Typed[] => ["Screener", "red"]),
        ),
      ),
    ).toBe("");
  });
});
