import { describe, expect, it } from "vitest";
import { withUncounted } from "../../../../src/book/reading/jobs/uncounted-jobs.ts";
import { cellKey } from "../../../../src/book/workbook/snapshot.ts";
import { FIRST_ROW, JUNE, kitOf, logOf, readLog } from "../../../scenes/our-log.ts";
import { on, type Typed } from "../../../scenes/scene.ts";

const KIT = kitOf("HS-01", "HS-02");
/** The only row of the set of HS-01, which its date in the register comes from. */
const ROW: readonly Typed[] = [JUNE, "HS-01", "SET", "replaced", null, "yes", "L1", "KB"];
const withCell = (at: number, value: Typed): Typed[] =>
  ROW.map((cell, column) => (column === at ? value : cell));

describe(withUncounted.name, () => {
  it.each([
    ...["changed", "replaced?", "not replaced", "to replace", "planned", "ordered", "ersetzt"],
    ...["inspected", "returned", null],
  ])("is no proof of the date by its job: %s", (job) => {
    const { unsure, told } = readLog(KIT, logOf([withCell(3, job)]));
    expect(unsure).toEqual(["HS-01 SET"]);
    expect(told).toContain("date disagrees Kit");
  });

  it.each(["1.6.2026", "2026-06-01", "June 2026", "1/6?", null, on("2027-06-01")])(
    "is no proof of the date by its day: %s",
    (date) => {
      expect(readLog(KIT, logOf([withCell(0, date)])).unsure).toEqual(["HS-01 SET"]);
    },
  );

  it("is no proof of the date where it is struck through", () => {
    const struck = new Set(ROW.map((_, column) => cellKey(FIRST_ROW, column)));
    expect(readLog(KIT, logOf([ROW], { struck })).unsure).toEqual(["HS-01 SET"]);
  });

  it.each([
    ["counts", ROW],
    ["is an inspection", [JUNE, "HS-01", "SET", "inspected", "clean", null, null, "KB"]],
    ["is of another day", [on("2026-05-04"), "HS-01", "SET", "ordered"]],
    ["is of another part", [JUNE, "HS-01", "CUSHION", "replaced", null, "yes"]],
    ["is text of another day", ["4.5.2026", "HS-01", "SET", "replaced", null, "yes"]],
  ] as const)("says nothing of the date where it %s", (_, row) => {
    expect(readLog(KIT, logOf([row])).unsure).toEqual([]);
  });

  it("gives way to a row of the day that counts", () => {
    expect(readLog(KIT, logOf([withCell(3, "ordered"), ROW])).unsure).toEqual([]);
  });
});
