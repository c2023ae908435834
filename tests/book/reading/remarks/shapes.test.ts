import { describe, expect, it } from "vitest";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");

function drawn(...shapes: readonly string[]): ReturnType<typeof readSheets> {
  const rows: Typed[][] = [
    ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"],
    ["A-01", "Alder", MAY, MAY],
    ["A-02", "Alder", MAY, MAY],
  ];
  return readSheets([sheetOf("Kit", rows, { shapes })]);
}

describe("a text in a shape over the cells", () => {
  it.each([
    ["Electrodes are replaced every 2 months."],
    ["Do not use A-02: cushion torn"],
    ["see A-02"],
    ["Ohrpolster gerissen"],
    ["do not use"],
  ])("is told before all figures where it names a device, a part or a limit: %s", (text) => {
    expect(doubtsSay(drawn(text)).join(" ")).toContain(
      `A shape over the cells of Kit says "${text}"; it is not read.`,
    );
  });

  it("is told by the check alone where it does not", () => {
    const reading = drawn("Maternity unit");
    expect(doubtsSay(reading).join(" ")).not.toContain("Maternity");
    expect(reading.problems.map(({ kind, cause }) => [kind, cause])).toContainEqual([
      "unweighed remark",
      'A shape over the cells of Kit says "Maternity unit"; it is not read.',
    ]);
  });

  it("is none without shapes", () => {
    expect(drawn().problems.filter(({ cause }) => cause.includes("shape"))).toEqual([]);
  });
});
