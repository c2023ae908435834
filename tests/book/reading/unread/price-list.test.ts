import { describe, expect, it } from "vitest";
import { mendingOf } from "../../../../src/book/day/mend.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { newRegisterPlan } from "../../../../src/book/sheets/new-register.ts";
import type { Snapshot } from "../../../../src/book/workbook/snapshot.ts";
import { openWorkbook, newWorkbook } from "../../../../src/xlsx/index.ts";
import { day } from "../../../../src/core/day.ts";
import { on, sheetOf, type Typed } from "../../../scenes/scene.ts";

const TODAY = day("2026-06-30");
const OURS = openWorkbook(newWorkbook(newRegisterPlan(TODAY, TODAY))).snapshot;

/** A book with our sheets, a register and a price list as somebody keeps one. */
function withPrices(rows: readonly (readonly Typed[])[]): Snapshot {
  const register = sheetOf("Kit", [
    ["Device", "Site", "Electrode set replaced"],
    ["VR-01", "S01", on("2026-05-04")],
  ]);
  const ours = OURS.sheets.filter(({ name }) => name !== "Equipment" && name !== "Setup");
  return {
    ...OURS,
    formats: ["General", "yyyy-mm-dd"],
    names: [],
    sheets: [register, sheetOf("Price list", rows), ...ours],
  };
}

function offers(rows: readonly (readonly Typed[])[]) {
  const snapshot = withPrices(rows);
  const reading = readWorkbook(snapshot, TODAY);
  const told = reading.problems.filter(({ kind }) => kind === "price offered");
  const cells = (prices: boolean): string[] =>
    mendingOf(snapshot, reading, { prices }).cells.map(
      ({ sheet, cell, to }) => `${sheet}!${cell} ${to}`,
    );
  const taken = reading.ours.parts.map(({ supply }) => supply.packPrice);
  return { told, silent: cells(false), asked: cells(true), taken };
}

describe("a price list in the book", () => {
  it.each([
    [
      [
        ["Item", "Price"],
        ["Electrode set", 84.5],
        ["Ear cushions", 12],
      ],
    ],
    [
      [
        ["Our prices 2026"],
        [],
        ["Article", "Number", "List price"],
        ["Electrode sets", "x-1", 84.5],
        ["Ear cushion", "x-2", 12],
      ],
    ],
    [
      [
        ["Part", "Pack price"],
        ["SET", "84,50 €"],
        ["cushion", "€ 12,00"],
        ["Cable", 30],
      ],
    ],
    [
      [
        ["Description", "Cost"],
        ["ELECTRODE SET", 84.5],
        ["ear-cushion", 12],
        ["electrode set", 84.5],
      ],
    ],
  ] as Typed[][][][])(
    "is offered with its cells, and taken only when that is said (%#)",
    (rows) => {
      const { told, silent, asked, taken } = offers(rows);
      expect(told.map(({ severity }) => severity)).toEqual(["notice", "notice"]);
      expect(told[0]?.cause).toMatch(
        /^Electrode set has no price; the book lists 84\.5 for .*Price list!/,
      );
      expect(told[0]?.fix).toContain(
        "take it with mend --prices or type it; it is not taken by itself",
      );
      expect(silent).toEqual([]);
      expect(asked).toEqual(["Parts!N4 84.5", "Parts!N5 12"]);
      expect(taken).toEqual([null, null, null]);
    },
  );

  it("with two prices for a part is told, and taken by nothing", () => {
    const { told, asked } = offers([
      ["Item", "Price"],
      ["Electrode set", 84.5],
      ["Electrode set", 91],
    ]);
    expect(told[0]?.fix).toContain("Type the one that is the price of a pack of");
    expect(asked).toEqual([]);
  });

  it.each([
    [
      [
        ["Item", "Price"],
        ["Cable", 10],
        ["Electrode set", "on request"],
        ["Ear cushion", 0],
      ],
    ],
    [
      [
        ["Item", "Quantity"],
        ["Electrode set", 10],
      ],
    ],
    [
      [
        ["Item", "Price"],
        ["Electrode set", "1.500"],
      ],
    ],
  ] as Typed[][][][])("offers nothing where no price is certain (%#)", (rows) => {
    expect(offers(rows).told).toEqual([]);
  });
});
