import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

/** Two devices, what is written beside the first; invented. */
function said(heading: Typed, text: Typed, retired: Typed = null): string {
  const rows: Typed[][] = [
    ["A-1", on("2026-05-04"), retired, text],
    ["A-2", on("2026-05-11"), null, null],
  ];
  const heads = ["Device", "Electrode set replaced", "Retired on", heading];
  return doubtsSay(readSheets([sheetOf("Kit", [heads, ...rows])])).join(" ");
}

describe("how often parts are replaced, said beside a device", () => {
  it.each([
    [
      "Notes",
      '"Notes" says how often parts are replaced (A-1: "NICU: change every 4 weeks"): that',
    ],
    [null, 'Column D says how often parts are replaced (A-1: "NICU: change every 4 weeks"): that'],
  ])("is told above all else, under %s", (heading, words) => {
    expect(said(heading, "NICU: change every 4 weeks")).toContain(words);
  });

  it.each(["cleaned weekly", "electrodes every 24 months", "checked 2 months ago", 12])(
    "is not where it is of other work, or no shorter than ours: %s",
    (text) => {
      expect(said("Notes", text)).not.toContain("how often");
    },
  );

  it("is not of a device that has left", () => {
    expect(said("Notes", "change monthly", on("2026-06-01"))).not.toContain("how often");
  });
});
