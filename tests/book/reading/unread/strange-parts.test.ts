import { describe, expect, it } from "vitest";
import type { Part } from "../../../../src/book/records/records.ts";
import { DEFAULT_PARTS } from "../../../../src/book/records/parts.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { todayOf } from "../../../../src/book/day/today.ts";
import { day } from "../../../../src/core/day.ts";
import { partNames } from "../../../../src/book/headings/fields.ts";
import { bookOf, on, onlyRegister, sheetOf, type Typed } from "../../../scenes/scene.ts";

const TODAY = day("2026-07-06");

function register(headings: readonly string[], rows: readonly (readonly Typed[])[]) {
  const snapshot = bookOf([sheetOf("Devices", [["Device", "Site", ...headings], ...rows])]);
  return { snapshot, reading: readWorkbook(snapshot, TODAY, { reportDate: TODAY }) };
}

const ROWS: readonly (readonly Typed[])[] = [
  ["E-1", "North", on("2026-05-04"), on("2026-05-04"), on("2025-10-06")],
  ["E-2", "North", on("2026-05-11"), on("2026-05-11"), on("2025-11-03")],
];
const lastFields = (found: ReturnType<typeof register>): string[] =>
  onlyRegister(found.reading).matches.flatMap(({ field }) =>
    field.startsWith("last:") ? [field] : [],
  );

describe("dates of parts that nobody follows", () => {
  it.each([
    "Probe tips replaced",
    "Sondenspitze gewechselt",
    "Embout de sonde changé",
    "Puntas de sonda cambiadas",
    "Gel pads replaced",
  ])("are told: %s", (heading) => {
    const { reading } = register(["Electrodes replaced", "Ear cushions replaced", heading], ROWS);
    const told = reading.problems.filter(({ cause }) => cause.includes(heading));
    expect(told.map(({ kind }) => kind)).toEqual(["unclear column"]);
    expect(told[0]?.cause).toContain("what is due by them is in no list");
  });
  it.each([
    "Battery due",
    "Probe tips ordered",
    "Probe tip lot",
    "Next probe tips",
    "Former electrodes replaced",
  ])("are none: %s", (heading) => {
    const { reading } = register(["Electrodes replaced", "Ear cushions replaced", heading], ROWS);
    const told = reading.problems.filter(({ cause }) => cause.includes(heading));
    // What is next is told as a column that is not used.
    expect(told.filter(({ kind }) => kind !== "unused column")).toEqual([]);
  });
});

describe("a second column of a part", () => {
  it.each([
    ["Electrodes replaced", "Spare electrodes replaced", "last:SET"],
    ["Electrode set A replaced", "Electrode set B replaced", "last:SET"],
    ["Ear cushions replaced", "Left cushion replaced", "last:CUSHION"],
    ["Ear cushions replaced", "Ear cushions replaced (second pair)", "last:CUSHION"],
    ["Elektroden Satz A gewechselt", "Elektroden Satz B gewechselt", "last:SET"],
    ["Electrodes (day kit) replaced", "Electrodes (night kit) replaced", "last:SET"],
  ])("%s and %s: none is taken until one is chosen", (one, other, field) => {
    const beside = field === "last:SET" ? "Ear cushions replaced" : "Electrodes replaced";
    const found = register([one, beside, other], ROWS);
    expect(lastFields(found).filter((last) => last.startsWith(field))).toEqual([]);
    const cause = found.reading.problems.find(({ kind }) => kind === "no column");
    expect(`${cause?.cause} ${cause?.fix}`).toContain(other);
    const { items } = todayOf(found.snapshot, found.reading);
    expect(items.filter(({ state }) => state === "Check row")).toHaveLength(2);
  });
  it("is none where it speaks of the time before", () => {
    const found = register(
      ["Electrodes replaced", "Ear cushions replaced", "Former electrodes replaced"],
      ROWS,
    );
    expect(lastFields(found)).toEqual(["last:SET", "last:CUSHION"]);
  });
});

describe("a part of another code", () => {
  it("keeps the words of its trade for its own interval", () => {
    const [set, ...others] = DEFAULT_PARTS;
    if (set === undefined) throw new Error("there are parts");
    const parts: Part[] = [{ ...set, code: "ELEC" }, ...others];
    expect(namesOf(parts)).toContain("electrode");
  });
});

function namesOf(parts: readonly Part[]): string[] {
  return parts.flatMap((part) => partNames(part, parts));
}
