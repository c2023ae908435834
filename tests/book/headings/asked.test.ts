import { describe, expect, it } from "vitest";
import { asks } from "../../../src/book/headings/asked.ts";
import { partWords } from "../../../src/book/headings/part-words.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";

const words = partWords(DEFAULT_PARTS);
const against = (heading: string, text: string): boolean | null =>
  asks(heading, words)?.(text) ?? null;

describe("what is answered below a heading", () => {
  it.each([
    ["Done?", "false", true],
    ["Done?", "true", false],
    ["Erledigt", "nein", true],
    ["Electrodes replaced?", "☐", true],
    ["Electrodes replaced?", "☑", false],
    ["Were all leads replaced?", "No", true],
    ["Damaged", "x", true],
    ["Damaged", "no", false],
    ["Electrodes OK", "NOK", true],
    ["Electrodes OK", "n.i.O.", true],
    ["Partly", "x", true],
    ["Complete set", "yes?", true],
    ["Complete set", "no?", true],
    ["Complete set", "yes", false],
  ])("%s %s", (heading, text, is) => {
    expect(against(heading, text)).toBe(is);
  });
  it.each([
    "Not replaced",
    "Electrodes to be replaced",
    "Replacement cost",
    "Remarks",
    "Damage costs",
  ])("is nothing below %s", (heading) => {
    expect(asks(heading, words)).toBeNull();
  });
});
