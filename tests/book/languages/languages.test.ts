import { describe, expect, it } from "vitest";
import { saysRetired } from "../../../src/book/records/retired-words.ts";
import { RETIRED_WORDS } from "../../../src/book/records/retired-words.ts";
import { answered } from "../../../src/book/languages/answers.ts";
import { LANGUAGES } from "../../../src/book/languages/index.ts";
import { languageOf } from "../../../src/book/languages/dictionary.ts";
import { phraseOf } from "../../../src/book/languages/words-of.ts";
import { readDateText } from "../../../src/book/headings/dates.ts";
import { isEnglish } from "../../../src/book/headings/words.ts";
import { patientHeading } from "../../../src/book/privacy/patient-words.ts";
import { saysServing } from "../../../src/book/records/serving-words.ts";
import { isoText } from "../../../src/core/day.ts";
import { LISTS, pairsOf } from "../headings/languages/lists.ts";
import {
  on,
  onlyRegister,
  oursOf,
  readSheets,
  sheetOf,
  told,
  type Typed,
} from "../../scenes/scene.ts";

const GERMAN = ["Gerätenummer", "Standort", "Inbetriebnahme", "Status", "Elektroden gewechselt am"];

function german(...rows: readonly (readonly Typed[])[]) {
  return readSheets([sheetOf("Geräte", [GERMAN, ...rows])]);
}

describe("a register in another language", () => {
  it("is read, told in which language its dates are doubtful, and mended in none", () => {
    const reading = german(
      ["VR-01", "S01", on("2024-01-10"), "in Betrieb", "04/05/2026"],
      ["VR-02", "S01", on("2024-01-10"), "ausgemustert", on("2024-06-04")],
    );
    expect(onlyRegister(reading).matches.map(({ field }) => field)).toEqual(
      expect.arrayContaining(["device", "site", "commissioned", "status", "last:SET"]),
    );
    expect(reading.devices.map(({ retired }) => retired)).toEqual([false, true]);
    expect(reading.devices[0]?.lastDone[0]?.date).toBeNull();
    const problem = reading.problems.find(({ kind }) => kind === "text date");
    expect(problem?.fix).toBe(
      "In German it is 2026-05-04, and it may be 2026-04-05: state in Setup whether the day or the month comes first, or type it as a date.",
    );
    expect(problem).not.toHaveProperty("mend");
  });

  it("follows a stated order before its language, and the other texts of a column", () => {
    const rows = [["VR-01", "S01", on("2024-01-10"), "in Betrieb", "04/05/2026"]];
    const stated = readSheets([sheetOf("Geräte", [GERMAN, ...rows])], oursOf({ dayOrder: "mdy" }));
    expect(stated.problems[0]?.fix).toBe("Type 2026-04-05 as a date.");
  });

  it("leaves out its row of totals, and no device that is called alike", () => {
    const row = (id: Typed): Typed[] => [id, "S01", on("2024-01-10"), "aktiv", on("2026-05-04")];
    const reading = german(row("VR-01"), row("Summe 1"), ["Gesamt:", null, null, null, 12]);
    expect(reading.devices.map(({ id }) => id)).toEqual(["VR-01", "Summe 1"]);
    expect(told(reading)).toEqual(["subtotal row *4"]);
  });
});

describe("words of every language", () => {
  it("that retire a device leave none in service, with and without their accents", () => {
    for (const { retired, serving } of LANGUAGES) {
      for (const word of retired) {
        expect([word, saysRetired(` ${word.toUpperCase()}`), saysServing(word)]).toEqual([
          word,
          true,
          false,
        ]);
      }
      for (const word of serving) {
        expect([word, saysRetired(word), saysServing(word)]).toEqual([word, false, true]);
      }
    }
    expect(saysRetired("reforme")).toBe(true);
    // Away for a while, or written down to nothing: no word for having left.
    for (const word of [
      "außer Betrieb",
      "afgeschreven",
      "hors service",
      "fuori servizio",
      "baja",
    ]) {
      expect([word, saysRetired(word)]).toEqual([word, false]);
    }
    for (const word of RETIRED_WORDS) expect(saysRetired(word)).toBe(true);
  });

  it("answer yes or no, one of the two", () => {
    for (const { yes, no } of LANGUAGES) {
      expect(yes.map(answered)).toEqual(yes.map(() => true));
      expect(no.map(answered)).toEqual(no.map(() => false));
    }
    expect(answered("Sí")).toBe(true);
    expect(answered("vielleicht")).toBeNull();
    expect(["yes?", "ja?", "oui ?", "yes (?)", "no?", "¿sí?"].map(answered)).toEqual(
      Array.from({ length: 6 }, () => null),
    );
  });

  it("sum up rows", () => {
    for (const { totals } of LANGUAGES) {
      for (const word of totals) {
        const row = ["VR-01", "S01", on("2024-01-10"), "aktiv", on("2026-05-04")];
        expect([word, german(row, [word, null, null, null, 3]).devices.length]).toEqual([word, 1]);
      }
    }
  });

  it("stop at what belongs to a patient, and at no heading of a register", () => {
    for (const { patients } of LANGUAGES) {
      for (const [looksLike, phrases] of Object.entries(patients)) {
        for (const phrase of phrases) {
          expect([phrase, patientHeading(phrase, false) === null]).toEqual([phrase, false]);
          // A list of suppliers or staff may name people, and no patients.
          const isNamed = patientHeading(phrase, true) === null;
          if (isNamed) expect([phrase, looksLike]).toEqual([phrase, "names of persons"]);
        }
      }
    }
    const stopped = Object.values(LISTS).flatMap(({ tuning, measuring }) =>
      [...pairsOf(tuning), ...pairsOf(measuring)].filter(
        ([heading]) => patientHeading(heading, false) !== null,
      ),
    );
    // Network addresses and telephones stop wherever no device is named beside them.
    expect(stopped.map(([heading]) => heading).sort()).toEqual(["IP address"]);
  });

  it.each([
    ["Geburtsdatum Kind", "date of birth"],
    ["Fecha de nacimiento", "date of birth"],
    ["Nombre de la paciente", "records of persons"],
    ["Patientin", "records of persons"],
    ["Imię i nazwisko", "names of persons"],
    ["NIR", "identity numbers"],
    ["Nombre completo del equipo", null],
    ["Untersuchungen je Patient", null],
    ["NE", null],
    ["Mutterhaus", null],
  ])("%s looks like %s", (heading, looksLike) => {
    expect(patientHeading(heading, false)).toBe(looksLike);
  });

  it("tell the language a register is written in, by its own words only", () => {
    for (const [name, { tuning }] of Object.entries(LISTS)) {
      const headings = pairsOf(tuning).map(([heading]) => heading);
      const expected = name === "English" ? null : name;
      expect([name, languageOf(headings, isEnglish)?.name ?? null]).toEqual([name, expected]);
    }
    expect(languageOf(["Device", "Site", "Status"], isEnglish)).toBeNull();
  });
});

describe("months as headings", () => {
  const months = LANGUAGES.flatMap(({ name, months: all }) =>
    all.flatMap((names, at) => names.map((month) => ({ name, month, number: at + 1 }))),
  );

  it("are read in every language, with two and with four digits of the year, in any case", () => {
    for (const { name, month, number } of months) {
      const first = `2026-${String(number).padStart(2, "0")}-01`;
      for (const text of [
        `${month} 26`,
        `${month.toUpperCase()} 2026`,
        `${month}. 2026`,
        `${month}-26`,
      ]) {
        const read = readDateText(text, "heading");
        expect([name, text, read?.kind === "month" && isoText(read.first)]).toEqual([
          name,
          text,
          first,
        ]);
      }
    }
  });

  it.each([
    ["Mär 26", "2026-03-01"],
    ["août 2026", "2026-08-01"],
    ["paź 26", "2026-10-01"],
    ["2026/03", "2026-03-01"],
    ["março/26", "2026-03-01"],
    ["Januar", null],
  ])("%s is %s", (text, first) => {
    const read = readDateText(text, "heading");
    expect(read?.kind === "month" ? isoText(read.first) : null).toBe(first);
  });

  it("mean no other month in English", () => {
    for (const { month, number } of months) {
      const english = readDateText(`${phraseOf(month)} 2026`);
      expect(english?.kind === "month" && isoText(english.first).slice(5, 7)).toBe(
        String(number).padStart(2, "0"),
      );
    }
  });
});
