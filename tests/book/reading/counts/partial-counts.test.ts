import { describe, expect, it } from "vitest";
import { saidOfCounts } from "../../../../src/book/reading/counts/partial-counts.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { on, oursOf, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const IDS = ["V-1", "V-2", "V-3", "V-4"];
const KIT = sheetOf("Kit", [
  ["Device", "Electrode set replaced"],
  ...IDS.map((id): Typed[] => [id, on("2026-05-04")]),
]);
const MONTHS = ["2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01"];

/** Counts with a column beside the devices, that says the same in every row; whether the newest are in doubt. */
function isDoubted(heading: string, text: (at: number) => Typed, name = "Tests"): boolean {
  const rows: Typed[][] = [
    ["Device", heading, ...MONTHS.map(on)],
    ...IDS.map((id, at): Typed[] => [id, text(at), 28 + at, 31 - at, 26 + at, 29 - at]),
  ];
  const matches = new Map([["counts", name]]);
  const reading = readSheets([KIT, sheetOf(name, rows)], oursOf({ matches }));
  const newest = reading.counts.filter(
    ({ row, column }) => row > 0 && column === MONTHS.length + 1,
  );
  const doubted = newest.filter(({ count }) => count === null).length;
  expect(newest).toHaveLength(IDS.length);
  expect([0, IDS.length]).toContain(doubted);
  expect(doubtsSay(reading).join(" ").includes("may lack some")).toBe(doubted > 0);
  return doubted > 0;
}

/** A list of them with a number beside each. */
function isListDoubted(heading: string, number: number): boolean {
  const rows: Typed[][] = [
    ["Month", "Device", "Tests", heading],
    ...MONTHS.flatMap((month, later) =>
      IDS.map((id, at): Typed[] => [on(month), id, 28 + (later % 2 === 0 ? at : -at), number]),
    ),
  ];
  return doubtsSay(readSheets([KIT, sheetOf("Monthly", rows)]))
    .join(" ")
    .includes("may lack some");
}

/** What people write beside their counts (common practice, no source). */
describe(saidOfCounts.name, () => {
  it.each([
    ...[
      ["Unit", "per week"],
      ["Basis", "first tests"],
      ["Result", "pass"],
      ["Status", "provisional"],
      ["Ear", "right"],
      ["Measure", "average"],
      ["Scale", "× 10"],
    ],
    ...[
      ["Einheit", "pro Woche"],
      ["Ergebnis", "bestanden"],
      ["Unité", "par semaine"],
      ["Oreille", "droite"],
      ["Unidad", "por semana"],
      ["Resultado", "superada"],
      ["Unità", "alla settimana"],
      ["Orecchio", "destro"],
      ["Unidade", "por semana"],
      ["Ouvido", "direito"],
      ["Eenheid", "per week"],
      ["Oor", "rechter"],
      ["Jednostka", "na tydzień"],
      ["Ucho", "prawe"],
    ],
  ])("puts counts in doubt by a text that is the same in every row: %s, %s", (heading, text) => {
    expect(isDoubted(heading, () => text)).toBe(true);
  });

  it.each([
    ["Site", "Oak"],
    ["Ward", "First floor"],
    ["Room", "Right wing"],
    ["Model", "First 2"],
    ["Unit", "tests"],
    ["Unit", "per month"],
    ["Region", "North"],
    ["Test", "ABR"],
  ])("leaves them where it says what they are or where: %s, %s", (heading, text) => {
    expect(isDoubted(heading, () => text)).toBe(false);
  });

  it("leaves them where rows differ, and hears a part in the name of their sheet", () => {
    expect(isDoubted("Group", (at) => ["first", "b", "c", "d"][at] ?? null)).toBe(false);
    expect(isDoubted("Site", () => "Oak", "First half 2026")).toBe(false);
    expect(isDoubted("Site", () => "Oak", "First tests")).toBe(true);
  });

  it.each([
    ["Attempts per baby", 1.43, true],
    ["Tests per baby", 1, false],
    ["Factor", 2, true],
    ["Versuche pro Kind", 1.4, true],
    ["Essais par enfant", 1.4, true],
    ["Pruebas por bebé", 1.4, true],
    ["Test per bambino", 1.4, true],
    ["Testes por criança", 1.4, true],
    ["Pogingen per kind", 1.4, true],
    ["Próby na dziecko", 1.4, true],
    ["Days counted", 21, true],
    ["Days counted", 30, false],
    ["Beds", 12, false],
  ])("puts them in doubt by a number that changes them: %s %s", (heading, number, is) => {
    expect(isListDoubted(heading, number)).toBe(is);
  });
});
