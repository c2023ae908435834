import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

const ENGLISH = ["Device", "Site", "Electrodes replaced", "Ear cushions replaced"];
const GERMAN = ["Gerät", "Ort", "Elektroden ersetzt", "Ohrpolster ersetzt"];
const FRENCH = ["Appareil", "Site", "Électrodes remplacées", "Coussinets remplacés"];
const ROWS = ["Q1", "Q2", "Q3"].map((id): Typed[] => [id, "A", on("2026-05-04"), on("2026-05-11")]);

describe("headings in two languages, a row each", () => {
  it.each([
    [ENGLISH, GERMAN],
    [GERMAN, ENGLISH],
    [FRENCH, GERMAN],
  ])("are one: %j %j", (first, second) => {
    const reading = readBook(bookOf([sheetOf("Kit", [first, second, ...ROWS])]), oursOf());
    expect(reading.devices.map(({ id }) => id)).toEqual(["Q1", "Q2", "Q3"]);
    expect(told(reading)).toEqual(["two-row heading *2"]);
  });

  it("are two tables where devices stand between them", () => {
    const rows = [ENGLISH, ...ROWS, GERMAN, ...ROWS.map(([, ...rest]) => ["R", ...rest])];
    const reading = readBook(bookOf([sheetOf("Kit", rows)]), oursOf());
    expect(told(reading)).toContain("register not read *5");
  });
});
