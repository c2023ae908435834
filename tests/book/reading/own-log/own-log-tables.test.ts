import { describe, expect, it } from "vitest";
import { tablesBeside } from "../../../../src/book/reading/own-log/own-log-tables.ts";
import { saysMended } from "../../../../src/book/headings/work-beside.ts";
import { todayOf } from "../../../../src/book/day/today.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const KIT = sheetOf("Kit", [
  ["Device", "Electrode set replaced", "Ear cushions replaced"],
  ...["V-1", "V-2", "V-3", "V-4"].map((id): Typed[] => [id, MAY, MAY]),
]);

/** Parts that are out of use with this log beside the register. */
function out(rows: readonly (readonly Typed[])[]): string[] {
  const book = bookOf([KIT, sheetOf("Log", rows)]);
  const { items } = todayOf(book, readWorkbook(book, REPORT_DATE));
  return items.flatMap(({ device, unit, outOfUse }) => (outOfUse ? `${device} ${unit}` : []));
}

/** How people keep what they did (common practice, no source). */
describe(tablesBeside.name, () => {
  it("reads each of two tables beside each other by its own devices", () => {
    const head = ["Date", "Asset", "Work"];
    const right: Typed[] = [on("2026-06-01"), "V-2", "cushion torn"];
    expect(
      out([
        [...head, null, ...head],
        [on("2026-05-18"), "V-4", "electrodes changed", null, ...right],
        [on("2026-05-17"), "V-3", "electrodes changed"],
      ]),
    ).toEqual(["V-2 CUSHION"]);
  });
  it("makes one log of them", () => {
    const head = ["Date", "Asset", "Work"];
    const line = (id: string): Typed[] => [on("2026-06-01"), id, "electrodes changed"];
    const rows = [
      [...head, null, ...head],
      [...line("V-1"), null, ...line("V-2")],
      [...line("V-3"), null, ...line("V-4")],
    ];
    const { ownLogs } = readWorkbook(bookOf([KIT, sheetOf("Log", rows)]), REPORT_DATE);
    expect(ownLogs.map(({ sheet, lines }) => [sheet, lines])).toEqual([["Log", 4]]);
    expect(ownLogs[0]?.wordings.map(({ lines }) => lines)).toEqual([4]);
  });
});

describe(saysMended.name, () => {
  const faults = (heading: string, fixed: Typed): string[] =>
    out([
      ["Reported", "Asset", "Fault", heading],
      [on("2026-06-02"), "V-2", "cushion torn", null],
      [on("2026-05-20"), "V-3", "cushion torn", fixed],
    ]);
  it.each([
    "Fixed",
    "Fixed on",
    "Done",
    "Resolved",
    "Behoben am",
    "Réparé le",
    "Resuelto",
    "Naprawiono",
  ])("closes a fault with a day under it: %s", (heading) => {
    expect(faults(heading, on("2026-06-10"))).toEqual(["V-2 CUSHION"]);
  });
  it.each([
    ["yes", true],
    ["no", false],
    ["waiting for parts", false],
    // Before it was reported, or still to come.
    [on("2026-05-10"), false],
    [on("2026-09-09"), false],
  ] as [Typed, boolean][])("closes one with a yes or such a day alone: %j", (fixed, isClosed) => {
    expect(faults("Fixed", fixed)).toEqual(["V-2 CUSHION", ...(isClosed ? [] : ["V-3 CUSHION"])]);
  });
});
