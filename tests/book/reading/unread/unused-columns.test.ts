import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const PASSED = on("2026-06-01");

function reading(heading: string, cells: readonly Typed[]): ReturnType<typeof readSheets> {
  const rows = cells.map((cell, at) => [`HS-0${at + 1}`, "Alder", MAY, MAY, cell]);
  const head = ["Device", "Site", "Electrode set replaced", "Ear cushion replaced", heading];
  return readSheets([sheetOf("Kit", [head, ...rows])]);
}

const unused = (heading: string, cells: readonly Typed[]): string[] =>
  reading(heading, cells).problems.flatMap(({ kind, cause }) =>
    kind === "unused column" ? [cause] : [],
  );

const said = (heading: string, cells: readonly Typed[]): string =>
  doubtsSay(reading(heading, cells)).join(" ");

/** Headings in the words of people's own (common practice, no source). */
describe("a column that is not used and says that a part must go or is no good", () => {
  it.each([
    ["Electrodes last day", [PASSED, null]],
    ["Review date", [PASSED, null]],
    ["Deadline", ["Apr 2026", null]],
    ["Change freq electrodes", ["8 weeks", null]],
    ["Cambiar cada", ["60 días", "60 días"]],
    ["PM frequency (months)", [2, 2]],
    ["Days remaining", [-10, 30]],
    ["Resttage", [12, -3]],
    ["Electrodes days left", [{ error: "#REF!" }, { error: "#REF!" }]],
    ["Overdue?", ["YES", null]],
    ["Needs changing", ["x", null]],
    ["Traffic light", ["green", "red"]],
    ["RAG", ["R", "G"]],
    ["Flag", ["!", null]],
    ["To do", ["change electrodes", null]],
    ["Alert", ["ok", "Change now"]],
    ["Elektroden spätestens", [null, PASSED]],
    ["Électrodes à changer avant le", [PASSED, PASSED]],
    ["Electrodes max age (months)", [1, 1]],
    ["Faults", ["lead broken", null]],
    ["Needs new electrodes", ["yes", null]],
    ["Source of date", ["not sure", "card"]],
  ] as [string, Typed[]][])("is told before all figures: %s", (heading, cells) => {
    expect(said(heading, cells)).toContain(
      `Nothing is read from "${heading}", which says that a part is due or no good.`,
    );
  });

  it.each([
    ["Electrodes OK?", ["no", "yes"], "SET"],
    // A history in which one part was changed and another is torn; a heading that is asked about besides.
    ["History", ["1/2 electrodes changed; 30/5 cushion torn", null], "CUSHION"],
    ["Log", ["01/02/26 electrodes changed, 30/05/26 cushion torn", null], "CUSHION"],
    ["Verlauf", ["Polster gerissen", null], "CUSHION"],
    ["Changes", ["30/5 cushion torn", null], "CUSHION"],
  ] as [string, Typed[], string][])(
    "is heard as a remark where a cell says it of a part: %s",
    (heading, cells, part) => {
      const { devices, problems } = reading(heading, cells);
      const doubted = devices.map(({ doubtedParts = [] }) => doubtedParts);
      expect(doubted).toEqual([expect.arrayContaining([part]), []]);
      expect(problems.filter(({ kind }) => kind === "unused column")).toEqual([]);
    },
  );

  it("is told in the check where it may say so", () => {
    expect(unused("Electrodes inspected", [MAY, MAY])).toEqual([
      'Nothing is read from "Electrodes inspected", which may say that a part is due or no good.',
    ]);
    expect(said("Electrodes inspected", [MAY, MAY])).toBe("");
  });

  it.each([
    ["Electrode lot", ["L22", "L23"]],
    ["Cable colour", ["red", "white"]],
    ["Asset owner", ["Ward", "Ward"]],
    ["Warranty until", [PASSED, PASSED]],
    ["Electrodes last day", [null, null]],
    ["Traffic light", ["green", "OK"]],
    ["Flag", ["no", "none"]],
  ] as [string, Typed[]][])(
    "is not where it is of something else or empty: %s",
    (heading, cells) => {
      expect(unused(heading, cells)).toEqual([]);
    },
  );
});
