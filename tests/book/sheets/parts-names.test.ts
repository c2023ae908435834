import { describe, expect, it } from "vitest";
import { PARTS } from "../../../src/book/sheets/parts.ts";
import { readParts } from "../../../src/book/sheets/parts-read.ts";
import { sheetOf } from "../../scenes/scene.ts";

/** A Parts sheet with these codes and names, its other cells blank. */
function read(...parts: readonly (readonly [code: string, name: string])[]) {
  const headings = PARTS.columns.map(({ heading }) => heading);
  const at = (heading: string): number => headings.indexOf(heading);
  const rows = parts.map(([code, name]) =>
    headings.map((_, column) =>
      column === at("Code") ? code : column === at("Name") ? name : null,
    ),
  );
  return readParts(sheetOf("Parts", [[PARTS.title], [], headings, ...rows]));
}

describe("two parts of one name", () => {
  it("are told apart by what their codes are usually called, or by the code", () => {
    const usual = read(["SET", "Ear cushion"], ["CUSHION", "ear cushion "]);
    expect(usual.parts.map(({ name }) => name)).toEqual(["Electrode set", "Ear cushion"]);
    const own = read(["TIP", "Probe"], ["CAP", "Probe"]);
    expect(own.parts.map(({ name }) => name)).toEqual(["Probe (TIP)", "Probe (CAP)"]);
    expect(own.problems.map(({ cause }) => cause)).toContain(
      "TIP and CAP have one name; until that is settled they are called Probe (TIP) and Probe (CAP).",
    );
  });
  it("are not where each has its own", () => {
    const { parts, problems } = read(["SET", "Electrodes"], ["CUSHION", "Cushion"]);
    expect(parts.map(({ name }) => name)).toEqual(["Electrodes", "Cushion"]);
    expect(problems.filter(({ heading }) => heading === "Name")).toEqual([]);
  });
});
