import { patientHeading } from "../../privacy/patient-words.ts";
import { patientHint } from "../../privacy/privacy.ts";
import { quoted } from "../../workbook/cells.ts";

/** A comment's own words: a first line that is the name of who wrote it is none of them. */
export function wordsSaid(said: string): string {
  return said.replace(/^[^\n:]{1,40}:\s*\n/u, "").trim();
}

/** Digits in a row that may be somebody's number. */
const LONG_NUMBER = /\d{6,}/u;

/** The first words of free text; none where they may be about a person. */
export function firstWords(said: string): string {
  const text = wordsSaid(said).replaceAll(/\s+/gu, " ");
  const words = text.split(" ");
  const seen = [text, ...words, ...words.map((_, at) => words.slice(at, at + 2).join(" "))];
  const isOfPerson =
    LONG_NUMBER.test(text) ||
    patientHeading(text, true) !== null ||
    seen.some((one) => patientHint(one) !== null);
  return isOfPerson ? "(not shown, since it may be about a person)" : quoted(text);
}
