import { describe, expect, it } from "vitest";
import { sitesAlike } from "../../../../src/book/reading/devices/sites-alike.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");

function told(sites: readonly string[], serials: readonly Typed[] = []): string[] {
  const rows = sites.map((site, at): Typed[] => [`V-${at + 1}`, site, serials[at] ?? null, MAY]);
  const head = ["Device", "Site", "Serial number", "Electrode set replaced"];
  return readSheets([sheetOf("Kit", [head, ...rows])]).problems.map(({ cause }) => cause);
}

describe("a site whose name is a slip away from another's", () => {
  it("is told where one device alone is there", () => {
    expect(told(["Noord", "Noord", "Noordd"])).toEqual([
      '"Noordd" may be "Noord"; V-3 alone is there.',
    ]);
    expect(told(["Alder House", "Alder House", "Alder Huose"])).toHaveLength(1);
  });
  it.each([
    [["Ward 1", "Ward 1", "Ward 2"]],
    [["Site A", "Site A", "Site B"]],
    [["North", "North", "South"]],
    [["Noord", "Noord", "Noordd", "Noordd"]],
  ])("is not where it may well be another: %j", (sites) => {
    expect(told(sites)).toEqual([]);
    expect(sitesAlike([])).toEqual([]);
  });
});
