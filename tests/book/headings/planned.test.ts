import { describe, expect, it } from "vitest";
import { fieldsFor } from "../../../src/book/headings/fields.ts";
import { ACCEPTED, matcherOf } from "../../../src/book/headings/match.ts";
import { saysPlanned } from "../../../src/book/headings/planned.ts";
import { DEFAULT_PARTS } from "../../../src/book/records/parts.ts";

const matcher = matcherOf(fieldsFor(DEFAULT_PARTS));
const DATES = { filled: 9, dates: 1, numbers: 0, texts: 0, distinct: 1, bare: 0 };

/** Whether a heading over dates is taken for a part's last replacement. */
function isTaken(heading: string): boolean {
  return matcher.fields
    .filter(({ key }) => key.startsWith("last:"))
    .some((field) => matcher.likeness(heading, field, DATES) >= ACCEPTED);
}

/** Phrases of the languages' own authors: common usage, no source. */
describe("headings that say when something is to be done", () => {
  it.each([
    ...["Change electrodes on", "Replace cushions", "Electrodes to be changed"],
    ...["Electrodes replacement required", "Electrodes change by:", "Cushion replacement needed"],
    ...["Date for electrodes change", "Electrodes change month", "Datum für Elektrodenwechsel"],
    ...["Fecha para cambio de electrodos", "Cambio elettrodi mese"],
    ...["Électrodes à changer le", "Elektroden zu wechseln", "Elektroden Wechsel bis"],
    ...["Electrodes vervangen voor", "Wymiana elektrod do", "Electrodos cambio hasta"],
  ])("are no last replacements: %s", (heading) => {
    expect(saysPlanned(heading)).toBe(true);
    expect(isTaken(heading)).toBe(false);
  });

  it.each([
    ...["Electrodes changed on", "Electrode change date", "Date of electrode replacement"],
    ...["Change of electrodes", "Cushions replaced (date)", "Electrode renewal"],
    ...["Date for last electrodes change", "Electrodes changed month", "Electrodes replacement"],
    ...["Elektroden gewechselt Monat"],
    ...["Changement des électrodes", "Elektroden gewechselt am", "Electrodes vervangen op"],
  ])("are others: %s", (heading) => {
    expect(saysPlanned(heading)).toBe(false);
    expect(isTaken(heading)).toBe(true);
  });
});

describe("headings of two jobs", () => {
  it.each([
    ...[
      "Electrodes last checked/replaced",
      "Electrodes installed/checked",
      "Cushions cleaned or changed",
    ],
    ...["Elektroden kontrolliert/gewechselt", "Electrodos inspeccionados o cambiados"],
  ])("are of neither: %s", (heading) => {
    expect(isTaken(heading)).toBe(false);
  });
  it("are one where a task is called so", () => {
    expect(isTaken("Safety check")).toBe(true);
  });
});
