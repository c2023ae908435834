import { describe, expect, it } from "vitest";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const KIT = sheetOf("Equipment", [
  ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"],
  ["D-1", "Oak", on("2026-05-04"), on("2026-02-04")],
  ["D-2", "Elm", on("2026-05-05"), on("2026-02-05")],
]);
const NO_LOG = oursOf({ matches: new Map([["own log", "none"]]) });

/** The kinds of what is told of a sheet with a column for each device. */
function told(...rows: readonly (readonly Typed[])[]): string[] {
  const grid = sheetOf("Grid", [["Device", "D-1", "D-2"], ["Site", "Oak", "Elm"], ...rows]);
  const { problems } = readSheets([KIT, grid], NO_LOG);
  return problems.filter(({ sheet }) => sheet === "Grid").map(({ kind }) => kind);
}
const SETS = ["Electrodes replaced", on("2026-05-04"), on("2026-05-05")];
const CUSHIONS = ["Ear cushions replaced", on("2026-02-04"), on("2026-02-05")];

describe("a sheet that the register was made of", () => {
  it("is not said to be in no list", () => {
    expect(told(SETS, CUSHIONS)).toEqual([]);
    expect(told(SETS, CUSHIONS, [], ["Nothing else"])).toEqual([]);
  });

  it.each<[string, readonly (readonly Typed[])[]]>([
    ["a later day", [["Electrodes replaced", on("2026-05-04"), on("2026-06-05")], CUSHIONS]],
    ["a remark", [SETS, CUSHIONS, ["Remarks", "cushion torn", null]]],
    ["damage beside it", [SETS, CUSHIONS, [], ["D-2: cushion torn"]]],
  ])("is told where it has %s", (_, rows) => {
    expect(told(...rows)).toEqual(["sheet not read"]);
  });
});
