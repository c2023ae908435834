import { describe, expect, it } from "vitest";
import type { Evidence } from "../../../src/book/headings/column-profile.ts";
import { fieldsFor } from "../../../src/book/headings/fields.ts";
import { matchColumns } from "../../../src/book/headings/claims.ts";
import { matcherOf, saysLastReplaced } from "../../../src/book/headings/match.ts";
import { DEFAULT_PARTS, DEFAULT_SUPPLY } from "../../../src/book/records/parts.ts";
import type { Part } from "../../../src/book/records/records.ts";
import { lastDoneTitle } from "../../../src/book/answers/titles.ts";
import { slips } from "../../../src/book/headings/words.ts";
import { FIRST, SECOND, THIRD } from "./headings.ts";
import { measure } from "./measure.ts";

const matcher = matcherOf(fieldsFor(DEFAULT_PARTS));

function fieldOf(heading: string, evidence: Evidence | null = null): string | null {
  return matchColumns(matcher, [{ column: 0, heading, evidence }]).matches[0]?.field ?? null;
}

const seen = (share: Partial<Evidence>): Evidence => ({
  filled: 40,
  dates: 0,
  numbers: 0,
  texts: 0,
  distinct: 0,
  bare: 0,
  ...share,
});
const DATES = seen({ dates: 1, distinct: 0.8 });
const TEXTS = seen({ texts: 1, distinct: 0.2 });

const PROBE: Part = {
  code: "PROBE",
  name: "Probe tip",
  shortest: 1,
  longest: 2,
  useBudget: null,
  lightUse: null,
  heavyUse: null,
  perWeek: 0,
  vinyl: false,
  task: false,
  supply: DEFAULT_SUPPLY,
  doubts: [],
};

describe("headings against fields", () => {
  it.each([
    { list: "first", headings: FIRST, right: 90, unmatched: 0 },
    { list: "second", headings: SECOND, right: 68, unmatched: 2 },
    { list: "third", headings: THIRD, right: 28, unmatched: 10 },
  ])("measured on the $list list: none wrong, no foreign one taken", (row) => {
    const { right, wrong, unmatched, foreignTaken } = measure(row.headings);
    expect({ right, unmatched: unmatched.length }).toEqual({
      right: row.right,
      unmatched: row.unmatched,
    });
    expect([...wrong, ...foreignTaken]).toEqual([]);
  });

  it("reads the headings of our own date columns, and words of parts the programme added", () => {
    const parts = [...DEFAULT_PARTS, PROBE];
    const own = matcherOf(fieldsFor(parts));
    const got = (heading: string): string | undefined =>
      matchColumns(own, [{ column: 0, heading, evidence: null }]).matches[0]?.field;
    for (const part of parts) expect(got(lastDoneTitle(part))).toBe(`last:${part.code}`);
    expect(got("Probe tip changed")).toBe("last:PROBE");
    expect(got("Probe tips replaced on")).toBe("last:PROBE");
  });

  it("takes a bare part name only for a column that holds dates", () => {
    expect(fieldOf("Electrodes", DATES)).toBe("last:SET");
    expect(fieldOf("Electrodes", TEXTS)).toBeNull();
    expect(fieldOf("Electrodes")).toBeNull();
    expect(fieldOf("Contact", DATES)).toBeNull();
  });

  it("drops a doubtful heading whose cells say otherwise, and keeps a certain one", () => {
    expect(fieldOf("In service", DATES)).toBe("commissioned");
    expect(fieldOf("In service", TEXTS)).toBeNull();
    expect(fieldOf("Electrode set replaced", TEXTS)).toBe("last:SET");
  });
});

describe("columns against fields", () => {
  const match = (...headings: readonly string[]) =>
    matchColumns(
      matcher,
      headings.map((heading, column) => ({ column, heading, evidence: null })),
    );

  it("gives a field to the better column and the other column to nothing", () => {
    const { matches, unclear } = match("Asset", "Device ID", "Device serial number");
    expect(matches.map(({ field, column }) => `${field} ${column}`)).toEqual([
      "device 0",
      "serial 2",
    ]);
    expect(unclear.map(({ columns }) => columns.map(({ heading }) => heading))).toEqual([
      ["Asset", "Device ID"],
    ]);
  });

  it("breaks a tie of words by what the cells hold", () => {
    const ids = seen({ texts: 1, distinct: 1 });
    const { matches, unclear } = matchColumns(matcher, [
      { column: 0, heading: "Equipment", evidence: TEXTS },
      { column: 1, heading: "Device ID", evidence: ids },
    ]);
    expect(matches.map(({ column }) => column)).toEqual([1]);
    expect(unclear).toEqual([]);
  });

  it.each([
    ["Screener", "Maternity unit", ["device 0", "site 1"]],
    ["Screener no.", "Maternity unit", ["device 0", "site 1"]],
    ["Screener", "Birth unit", ["device 0", "site 1"]],
    ["Device", "Birthing unit", ["device 0", "site 1"]],
    ["Equipment no.", "Birth unit", ["device 0", "site 1"]],
    ["Screener", "Unit", ["device 0"]],
    ["ID", "Equipment", ["device 0"]],
    ["Screener", "Unit no.", ["device 0"]],
  ])("takes %s beside a repeating %s for the device", (device, other, expected) => {
    const ids = seen({ texts: 1, distinct: 1 });
    const { matches, unclear } = matchColumns(matcher, [
      { column: 0, heading: device, evidence: ids },
      { column: 1, heading: other, evidence: TEXTS },
    ]);
    expect(matches.map(({ field, column }) => `${field} ${column}`)).toEqual(expected);
    expect(unclear).toEqual([]);
  });

  it("keeps the only column of devices, also where its values repeat", () => {
    const { matches } = matchColumns(matcher, [
      { column: 0, heading: "Device", evidence: TEXTS },
      { column: 1, heading: "Note", evidence: seen({ texts: 1, distinct: 1 }) },
    ]);
    expect(matches[0]?.field).toBe("device");
  });

  it("takes neither of two dates that fit equally well, since the later one could lengthen", () => {
    const { matches, unclear } = match("Device", "Electrode set replaced", "Contact set changed");
    expect(matches.map(({ field }) => field)).toEqual(["device"]);
    expect(unclear.map(({ field }) => field.key)).toEqual(["last:SET"]);
  });

  it("knows a last-replaced heading that does not say which part", () => {
    const asks = (heading: string): boolean =>
      saysLastReplaced(matcher, { column: 0, heading, evidence: null });
    expect(asks("Last replaced")).toBe(true);
    expect(asks("Date changed")).toBe(true);
    expect(asks("Electrode set replaced")).toBe(false);
    expect(fieldOf("Last replaced")).toBeNull();
  });

  it("gives that heading to the only part that wears", () => {
    const one = matcherOf(fieldsFor(DEFAULT_PARTS.filter(({ code }) => code !== "CUSHION")));
    const candidate = { column: 0, heading: "Last replaced", evidence: null };
    expect(matchColumns(one, [candidate]).matches[0]?.field).toBe("last:SET");
  });
});

describe("typing slips", () => {
  it.each([
    // Optimal string alignment, worked by hand.
    ["serial", "serail", 1],
    ["calibration", "calibraton", 1],
    ["kitten", "sitting", 3],
    ["ca", "abc", 3],
    ["", "abc", 3],
    ["same", "same", 0],
  ])("from %s to %s are %i", (one, other, distance) => {
    expect(slips(one, other)).toBe(distance);
    expect(slips(other, one)).toBe(distance);
  });
});
