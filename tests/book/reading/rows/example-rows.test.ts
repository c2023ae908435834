import { describe, expect, it } from "vitest";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const MAY = on("2026-05-04");
const HEADS = ["Device", "Site", "Electrode set replaced"];

function read(rows: readonly Typed[][], heads: Typed[] = HEADS) {
  const { devices, problems } = readSheets([sheetOf("Kit", [heads, ...rows])]);
  const told = problems.flatMap(({ kind, cause }) => (kind === "foot row" ? cause : []));
  return { ids: devices.map(({ id }) => id), told };
}

/** Rows that show how to fill a list, as templates have them (common practice, no source). */
describe("a row above all devices", () => {
  it.each([
    ...["e.g. AB-1", "E. g. AB-1", "(e.g.) AB-1", "For example: AB-1", "Example", "Example row"],
    ...["z. B. AB-1", "z.B. AB-1", "Beispiel", "Beispiel: AB-1", "ex. AB-1", "p. ex. AB-1"],
    ...["Exemple : AB-1", "p. ej. AB-1", "Ejemplo", "Por ejemplo", "Exemplo", "es. AB-1"],
    ...["ad es. AB-1", "Esempio", "bijv. AB-1", "bv. AB-1", "Voorbeeld", "np. AB-1", "Przykład"],
  ])("is left out and told where its device says that it is an example: %s", (text) => {
    const { ids, told } = read([
      [text, "Alder", MAY],
      ["V-1", "Alder", MAY],
    ]);
    expect(ids).toEqual(["V-1"]);
    expect(told).toEqual(["Row 2 holds an example; it is left out."]);
  });

  it.each([["EXAMPLE ROW - delete"], ["Beispielzeile"], ["ligne d'exemple"], ["sample row"]])(
    "is left out where a note says it of the row: %s",
    (note) => {
      const rows = [
        ["EX-00", "Alder", MAY, note],
        ["V-1", "Alder", MAY, "ask for an example"],
      ];
      expect(read(rows, [...HEADS, "Comments"]).ids).toEqual(["V-1"]);
    },
  );

  it("is left out where its first cell says so", () => {
    const rows = [
      ["e.g.", "AB-1", "Alder", MAY],
      [1, "V-1", "Alder", MAY],
    ];
    expect(read(rows, ["No.", ...HEADS]).ids).toEqual(["V-1"]);
  });

  it.each([
    ...["EX-1", "ES 2", "ex1", "EG-4", "NP 3", "Example 3", "Exemplar 2", "BV-1", "Beispielort 1"],
  ])("is a device where its name may only look so: %s", (text) => {
    expect(read([[text, "Alder", MAY]]).ids).toEqual([text]);
  });

  it("only: below a device nothing is left out", () => {
    const rows = [
      ["V-1", "Alder", MAY],
      ["e.g. AB-1", "Alder", MAY],
    ];
    expect(read(rows)).toEqual({ ids: ["V-1", "e.g. AB-1"], told: [] });
  });
});
