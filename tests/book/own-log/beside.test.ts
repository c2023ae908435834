import { describe, expect, it } from "vitest";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { cellKey } from "../../../src/book/workbook/snapshot.ts";
import { day, isoText } from "../../../src/core/day.ts";
import { openWorkbook } from "../../../src/xlsx/index.ts";
import { DEVICES, type TypedRow, typedBook } from "../../scenes/own-log-book.ts";

const TODAY = day("2026-06-30");
const CONFIRMED = new Map([["own log", "Diary"]]);

/** A book as it is read, with what was said of its log. */
function read(sheets: Readonly<Record<string, readonly TypedRow[]>>, matches = CONFIRMED) {
  const { snapshot } = openWorkbook(typedBook(sheets));
  const reading = readWorkbook(snapshot, TODAY, { matches });
  const last = (device: string, part: string): string | null => {
    const found = reading.devices.find(({ id }) => id === device);
    const date = found?.lastDone.find((done) => done.part === part)?.date ?? null;
    return date === null ? null : isoText(date);
  };
  return { last, kinds: reading.problems.map(({ kind }) => kind) };
}

describe("what stands beside the work of a line", () => {
  it.each([
    ["Status", "cancelled", "done"],
    ["Status", "planned", "completed"],
    ["Status", "unknown yet", "done"],
    ["Result", "not done", "ok"],
    ["Done?", "no", "yes"],
    ["Done?", null, "x"],
    ["Fait ?", "non", "oui"],
    ["Fait ?", "?", "oui"],
    ["Done", "-", "x"],
    ["Erledigt", "✗", "✓"],
    ["Done", "0", "1"],
    ["Comments", "??", null],
    ["Fait", null, "fait"],
    ["Erledigt", null, "ja"],
    ["Hecho", "pendiente", "sí"],
    ["Zrobione", "nie", "tak"],
    ["Gedaan?", null, "x"],
    ["Done on", null, "2026-03-20"],
    ["Estado", "anulado", "completo"],
    ["Status", "geplant", "komplett"],
    ["Statut", "reporté", "complet"],
    ["Stato", "annullato", "completo"],
    ["Estado", "adiado", "completo"],
    ["Status", "geannuleerd", "compleet"],
    ["Status", "odwołano", "komplet"],
    ["Kind of visit", "inspection", null],
    ["Comments", "date is a guess", "blue folder"],
    ["Nurse's notes", "old ones put back", "blue folder"],
    ["Side", "L", null],
    ["What else", "to be confirmed", "blue folder"],
  ])("counts no line of which another column says otherwise: %s, %s", (heading, word, plain) => {
    const lines = [
      ["Date", "Device", "Part changed", heading],
      ["2026-03-02", "HS-1", "electrodes", plain],
      ["2026-05-02", "HS-1", "electrodes", word],
      ["2026-03-03", "HS-2", "electrodes", plain],
    ] as const;
    const { last, kinds } = read({ Kit: DEVICES, Diary: lines });
    expect([last("HS-1", "SET"), last("HS-2", "SET")]).toEqual(["2026-03-02", "2026-03-03"]);
    expect(kinds).toContain(heading === "Side" ? "partial set" : "log words");
  });

  it.each([
    ["Reason", "scheduled"],
    ["Motivo", "programado"],
    ["Ward", "No 1 left"],
    ["Serial no", "L"],
    ["Remarks", "blue folder"],
    ["Model", "Pro 1"],
  ])("counts lines beside which stands something else: %s, %s", (heading, word) => {
    const lines = [
      ["Date", "Device", "Part changed", heading],
      ["2026-03-02", "HS-1", "electrodes", word],
      ["2026-05-02", "HS-1", "electrodes", word],
      ["2026-03-03", "HS-2", "electrodes", word],
    ] as const;
    expect(read({ Kit: DEVICES, Diary: lines }).last("HS-1", "SET")).toBe("2026-05-02");
  });

  it("is not what a question like it says", () => {
    const lines = [
      ["Date", "Device", "Work"],
      ["2026-03-02", "HS-1", "electrodes changed"],
      ["2026-05-02", "HS-1", "electrodes changed?"],
      ["2026-03-03", "HS-2", "electrodes changed"],
    ] as const;
    expect(read({ Kit: DEVICES, Diary: lines }).last("HS-1", "SET")).toBe("2026-03-02");
    const said = new Map([...CONFIRMED, ["log word electrodes changed ?", "SET replaced"]]);
    expect(read({ Kit: DEVICES, Diary: lines }, said).last("HS-1", "SET")).toBe("2026-05-02");
  });

  it("takes parts alone as replaced where the date's heading or the sheet's name says so", () => {
    const lines = (heading: string): readonly TypedRow[] => [
      [heading, "Device", "Part"],
      ["2026-03-02", "HS-1", "electrodes"],
      ["2026-05-02", "HS-2", "electrodes"],
    ];
    const lastIn = (sheet: string, heading: string): string | null =>
      read({ Kit: DEVICES, [sheet]: lines(heading) }, new Map([["own log", sheet]])).last(
        "HS-1",
        "SET",
      );
    expect(lastIn("Diary", "Date replaced")).toBe("2026-03-02");
    expect(lastIn("Replacements 2026", "Date")).toBe("2026-03-02");
    expect(lastIn("Diary", "Date")).toBeNull();
    expect(lastIn("Not replaced", "Date")).toBeNull();
    expect(lastIn("Replaced or checked", "Date")).toBeNull();
  });

  it("lines struck through, or with a comment that speaks against them, do not count", () => {
    const { snapshot } = openWorkbook(
      typedBook({
        Kit: DEVICES,
        Diary: [
          ["When", "Unit", "What was done", "Who"],
          ["2026-01-05", "HS-4", "new electrodes", "ab"],
          ["2026-01-05", "HS-3", "new electrodes", "ab"],
          ["2026-03-02", "HS-1", "new electrodes", "ab"],
          ["2026-05-02", "HS-1", "new electrodes", "ab"],
          ["2026-03-02", "HS-2", "new electrodes", "ab"],
          ["2026-05-02", "HS-2", "new electrodes", "ab"],
        ],
      }),
    );
    const sheets = snapshot.sheets.map((sheet) =>
      sheet.name !== "Diary"
        ? sheet
        : {
            ...sheet,
            struck: new Set([cellKey(4, 2)]),
            comments: new Map([
              [cellKey(5, 0), "see folder"],
              [cellKey(6, 2), "Ann:\nnot done, no stock"],
            ]),
          },
    );
    const reading = readWorkbook({ ...snapshot, sheets }, TODAY, { matches: CONFIRMED });
    const last = reading.devices.map(
      ({ lastDone }) => lastDone.find(({ part }) => part === "SET")?.date,
    );
    expect(last.slice(0, 2)).toEqual([day("2026-03-02"), day("2026-03-02")]);
    const kinds = reading.problems.map(({ kind }) => kind);
    expect(kinds).toContain("struck out");
    expect(kinds).toContain("log words");
  });
});
