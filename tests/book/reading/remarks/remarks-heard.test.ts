import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { bookOf, on, oursOf, sheetOf, type Typed } from "../../../scenes/scene.ts";

const DATE = on("2026-06-01");

/** One device with this remark under this heading. */
function remarked(remark: Typed, heading: string): Reading {
  const rows: Typed[][] = [
    ["Device", "Electrode set replaced", heading],
    ["V-1", DATE, remark],
    ["V-2", DATE, null],
  ];
  return readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
}

describe("an answer beside a date", () => {
  it.each([
    ["Complete set", "no"],
    ["Set complete?", "N"],
    ["Komplett", "nein"],
    ["Vollständig", "nein"],
    ["Complet", "non"],
    ["Completo", "não"],
    ["Compleet", "nee"],
    ["Komplet", "nie"],
    ["Confirmed", "no"],
    ["Bestätigt", "nein"],
    ["Changed?", "N"],
    ["Fait", "non"],
    ["Partial", "x"],
    ["Teilweise", "ja"],
    ["Done", false],
    ["Replaced?", false],
    ["Gewechselt?", "✗"],
    ["Remplacé ?", "☐"],
    ["¿Cambiado?", "no"],
    ["Sostituito?", false],
    ["Substituído?", "não"],
    ["Vervangen?", "nee"],
    ["Wymieniono?", false],
    ["Were all leads replaced then?", "No"],
    ["Damaged", true],
    ["Endommagé", "oui"],
    ["Condition OK?", "No"],
    ["Good condition", "N"],
    ["Inspection OK", "NOK"],
  ] as [string, Typed][])(
    "speaks against its row where it says that not all was done: %s, %s",
    (heading, answer) => {
      expect(remarked(answer, heading).devices.map(({ doubt }) => doubt)).toEqual(["remark", null]);
    },
  );

  it.each([
    ["Complete set", "yes"],
    ["Komplett", "ja"],
    ["Partial", "no"],
    ["Partial", null],
    ["Complete set", null],
    ["Printer", "no"],
    ["Done", true],
    ["Replaced?", true],
    ["Gewechselt?", "✓"],
    ["Damaged", false],
    ["Condition OK?", "Yes"],
    ["Good condition", "Y"],
    ["Bon de travail", "12345"],
  ] as [string, Typed][])("says nothing against it else: %s, %s", (heading, answer) => {
    expect(remarked(answer, heading).devices.map(({ doubt }) => doubt)).toEqual([null, null]);
  });
});

describe("a question of how a part is", () => {
  const QUESTIONS: readonly (readonly [string, string, string])[] = [
    ["Are the ear cushions in good condition?", "No", "Yes"],
    ["Cushion condition good?", "no", "yes"],
    ["Cushions OK", "✗", "✓"],
    ["Zustand Ohrpolster gut?", "Nein", "Ja"],
    ["Ohrpolster in Ordnung", "nein", "ja"],
    ["État des coussinets bon ?", "Non", "Oui"],
    ["Estado de almohadillas bueno", "No", "Sí"],
    ["Stato cuscinetti buono", "No", "Sì"],
    ["Estado das almofadas bom", "Não", "Sim"],
    ["Kussens in goede staat", "Nee", "Ja"],
    ["Stan poduszek dobry", "Nie", "Tak"],
    ["Poduszki sprawne", "Nie", "Tak"],
  ];
  it.each(QUESTIONS)("is in doubt by a no, and of nothing by a yes: %s", (heading, no, yes) => {
    const { devices } = remarked(no, heading);
    expect(devices[0]?.doubtedParts).toEqual(["CUSHION"]);
    const clean = remarked(yes, heading);
    expect(clean.devices.map(({ doubt, doubtedParts }) => doubt ?? doubtedParts ?? null)).toEqual([
      null,
      null,
    ]);
    expect(clean.problems.filter(({ severity }) => severity === "fault")).toEqual([]);
  });

  it("is of the date before it where each has one", () => {
    const rows: Typed[][] = [
      ["Device", "Electrodes replaced", "Done", "Cushions replaced", "Done"],
      ["V-1", DATE, false, DATE, true],
      ["V-2", DATE, true, DATE, false],
    ];
    const { devices } = readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
    expect(devices.map(({ doubtedParts }) => doubtedParts)).toEqual([["SET"], ["CUSHION"]]);
  });
});

describe("damage under any other heading", () => {
  const headings = [
    ...[
      "Work order text",
      "Work order",
      "Service report",
      "Room",
      "Department",
      "Supplier",
      "Model",
    ],
    ...["Serial No", "Warranty", "Ticket", "Auftrag", "Commande", "Pedido", "Ordine", "Zlecenie"],
  ];
  it.each(headings)("puts the part in doubt that it names: %s", (heading) => {
    const { devices, problems } = remarked("cushion torn", heading);
    expect(devices[0]?.doubtedParts).toEqual(["CUSHION"]);
    const [told] = problems.filter(({ kind }) => kind === "part remark");
    expect(told?.cause).toContain("Of V-1 it says");
  });
  it.each([
    ["Room", "blister on baby, stopped"],
    ["Service report", "Hautrötung beim Kind"],
    ["Work order text", "électrode oxydée"],
    ["Ticket", "electrodo oxidado"],
    ["Auftrag", "Elektrode oxidiert"],
    ["Ordine", "elettrodo ossidato"],
    ["Pedido", "elétrodo oxidado"],
    ["Opdracht", "kussen stuk"],
    ["Opdracht", "elektrode geoxideerd"],
    ["Zlecenie", "poduszka podarta"],
    ["Zlecenie", "elektroda skorodowana"],
    ["Zlecenie", "elektroda utleniona"],
  ])("speaks against the row: %s, %s", (heading, text) => {
    const [device] = remarked(text, heading).devices;
    expect(device?.doubt ?? device?.doubtedParts ?? null).not.toBeNull();
  });
  it.each([
    ["Supplier", "Crack & Sons"],
    ["Supplier", "Burns Ltd"],
    ["Place", "Old Town"],
    ["Reason electrodes replaced", "cushion torn"],
    ["Work order text", "cushion torn, replaced"],
    ["Previous fault", "cushion torn"],
    ["Room", "Burns unit"],
  ])("is none where a name or what is over speaks: %s, %s", (heading, text) => {
    const { devices } = remarked(text, heading);
    expect(devices.map(({ doubt, doubtedParts }) => doubt ?? doubtedParts ?? null)).toEqual([
      null,
      null,
    ]);
  });
});
