import { describe, expect, it } from "vitest";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const KIT = sheetOf("Equipment", [
  ["Device", "Site", "Electrode set: last replaced", "Ear cushion: last replaced"],
  ["HS-01", "North", on("2026-05-04"), on("2026-02-04")],
  ["HS-02", "North", on("2026-05-05"), on("2026-02-05")],
]);

const NO_LOG = oursOf({ matches: new Map([["own log", "none"]]) });

/** The kinds of what is told of a sheet of rows of parts beside the register. */
function told(...rows: readonly (readonly Typed[])[]): string[] {
  const beside = sheetOf("Old rows", [["Device", "Component", "Last replaced", "Notes"], ...rows]);
  const { problems } = readSheets([KIT, beside], NO_LOG);
  return problems.filter(({ sheet }) => sheet === "Old rows").map(({ kind }) => kind);
}
const SAME: readonly (readonly Typed[])[] = [
  ["HS-01", "Electrode set", on("2026-05-04"), null],
  ["HS-01", "Ear cushion", on("2026-02-04"), null],
  ["HS-02", "Electrode set", on("2026-05-05"), null],
  ["HS-02", "Ear cushion", on("2026-02-05"), null],
];
const instead = (at: number, row: readonly Typed[]): string[] =>
  told(...SAME.map((one, nth) => (nth === at ? row : one)));

describe("a sheet of which the register has everything", () => {
  it("is not said to be in no list", () => {
    expect(told(...SAME)).toEqual([]);
    // The register went on.
    expect(instead(0, ["HS-01", "Electrode set", on("2026-02-20"), null])).toEqual([]);
  });

  it.each<[string, readonly Typed[]]>([
    ["a later day", ["HS-01", "Electrode set", on("2026-06-04"), null]],
    ["a day after another part's last, without the part", ["HS-01", "", on("2026-05-04"), null]],
    ["no day", ["HS-01", "Electrode set", null, null]],
    ["damage", ["HS-01", "Electrode set", on("2026-05-04"), "broken"]],
  ])("is told where a row has %s", (_, row) => {
    expect(instead(0, row)).toEqual(["sheet not read"]);
  });
});
