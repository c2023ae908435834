import { describe, expect, it } from "vitest";
import { isoText } from "../../../src/core/day.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { on, readSheets, sheetOf, told, type Typed } from "../../scenes/scene.ts";

/** Month headings as people write them over a sheet of counts; the register is of three devices. */
const REGISTER = sheetOf("Equipment", [
  ["Device", "Site", "Status"],
  ["VR-01", "S01", "In service"],
  ["VR-02", "S01", "In service"],
  ["VR-03", "S02", "In service"],
]);

function counted(
  headings: readonly Typed[],
  above: readonly Typed[][] = [],
  name = "Counts",
): Reading {
  const rows = [...above, ["Device", ...headings]];
  for (const device of ["VR-01", "VR-02", "VR-03"]) rows.push([device, ...headings.map(() => 40)]);
  return readSheets([REGISTER, sheetOf(name, rows)]);
}

function months({ counts }: Reading): string[] {
  return counts
    .filter(({ device }) => device === "VR-01")
    .map(({ month }) => isoText(month).slice(0, 7));
}

const SPRING = ["2026-03", "2026-04", "2026-05"];

describe("a month heading that states its year", () => {
  it.each([
    ["2026/03", "2026/04", "2026/05"],
    ["03.2026", "04.2026", "05.2026"],
    ["03-2026", "04-2026", "05-2026"],
    ["Mär 26", "Apr 26", "Mai 26"],
    ["März 2026", "April 2026", "Mai 2026"],
    ["mars 2026", "avr. 2026", "mai 2026"],
    ["mar/26", "abr/26", "mayo/26"],
    ["M3 2026", "M4 2026", "M5 2026"],
    ["2026 M03", "2026 M04", "2026 M05"],
    ["2026M3", "2026M4", "2026M5"],
    ["Month 3 2026", "Month 4 2026", "Month 5 2026"],
    ["Monat 3/2026", "Monat 4/2026", "Monat 5/2026"],
    ["M3-26", "M4-26", "M5-26"],
    ["2026-03", "2026-04", "2026-05"],
    ["P03 2026", "P04 2026", "P05 2026"],
  ])("is read: %s, %s, %s", (...headings) => {
    expect(months(counted(headings))).toEqual(SPRING);
  });
  it("août 2026 is August", () => {
    // After the report date of these books, so its counts are not used, and told.
    expect(told(counted(["juil. 2026", "août 2026"])).join()).toContain("future date");
  });
  it("says of periods what they are taken for", () => {
    const said = counted(["P03 2026", "P04 2026", "P05 2026"]).problems;
    expect(said.map(({ cause }) => cause)).toContain(
      "The periods are taken as the months of the calendar year, P01 as January.",
    );
  });
});

describe("months that pass the turn of a year", () => {
  const winter = ["Nov", "Dec", "Jan", "Feb", "Mar"];
  const read = ["2025-11", "2025-12", "2026-01", "2026-02", "2026-03"];
  it.each([
    ["2025/26", winter, read],
    ["2025-2026", winter, read],
    ["FY2026 (2025/26)", winter, read],
    ["2025/26", [...winter].reverse(), [...read].reverse()],
    ["Okt–Sep 2025/26", ["Nov.", "Dez.", "Jän.", "Feb.", "März"], read],
    ["Sesiones 2025-26", ["nov", "dic", "ene", "feb", "mar"], read],
  ])("are of the two years that are named together: %s", (title, headings, expected) => {
    expect(months(counted(headings, [[title]]))).toEqual(expected);
  });
  it.each([
    ["FY2026"],
    ["FY2025"],
    ["2026"],
    ["2024/26"],
    ["FY2024 (2025/26)"],
    ["2025/26, before 2024/25"],
  ])("are of no year that is named alone, or otherwise: %s", (title) => {
    for (const reading of [counted(winter, [[title]]), counted(winter, [[]], title)]) {
      expect(reading.counts).toEqual([]);
      expect(told(reading).join()).toContain("month unclear");
    }
  });
});

describe("months of which each has the year that the others have, and pass its turn", () => {
  it.each([
    ["in texts", ["Nov 2026", "Dec 2026", "Jan 2026"]],
    ["as dates", [on("2026-11-01"), on("2026-12-01"), on("2026-01-01")]],
  ] as [string, Typed[]][])("are of no year: %s", (_, headings) => {
    const reading = counted(headings);
    expect(reading.counts).toEqual([]);
    expect(told(reading).join()).toContain("month unclear");
  });
});

describe("month headings without a year", () => {
  const forms = [
    ["M3", "M4", "M5"],
    ["Month 3", "Month 4", "Month 5"],
    ["P03", "P04", "P05"],
    ["Mar", "Apr", "May"],
    ["März", "April", "Mai"],
  ];
  it.each(forms)("take the one year that stands above or on the tab: %s, %s, %s", (...headings) => {
    for (const reading of [
      counted(headings, [["Sessions 2026"]]),
      counted(headings, [[2026], []]),
      counted(headings, [["Sessions in 2026, printed 03/01/2027"]]),
      counted(headings, [], "Counts 2026"),
    ]) {
      expect(months(reading)).toEqual(SPRING);
      expect(reading.problems.map(({ cause }) => cause).join()).toContain("it is taken from");
    }
  });
  it.each(forms)(
    "are told and not counted where no year, or more than one, is stated: %s, %s, %s",
    (...headings) => {
      for (const reading of [
        counted(headings),
        counted(headings, [["Sessions 2025/26"]]),
        counted(headings, [["2025 and 2026"]]),
        counted(headings, [["Printed on 05.01.2026"]]),
        counted(headings, [[on("2026-01-05")]]),
      ]) {
        expect(months(reading)).toEqual([]);
        const problem = reading.problems.find(({ kind }) => kind === "month unclear");
        expect(problem?.severity).toBe("fault");
        expect(problem?.cause).toContain(`"${headings[0] ?? ""}"`);
        expect(problem?.fix).toMatch(
          /^Write each month with its year, such as 2026-03; .*"2025\/26"[.]$/,
        );
      }
    },
  );
  it("are told where single headings of a sheet cannot be read beside others that can", () => {
    const reading = counted(["2026-03", "04/03/2026", "2026-05"]);
    expect(months(reading)).toEqual(["2026-03", "2026-05"]);
    expect(told(reading).join()).toContain("month unclear");
  });
});

describe("words that are months somewhere", () => {
  it("stay what they are in a register that names a year", () => {
    const reading = readSheets([
      sheetOf("Equipment 2026", [
        ["Device", "Site", "Set", "Mar", "P1"],
        ["VR-01", "S01", "a", "b", "c"],
        ["VR-02", "S01", "a", "b", "c"],
      ]),
    ]);
    expect(reading.counts).toEqual([]);
    expect(told(reading)).not.toContain("month unclear *0");
  });
});
