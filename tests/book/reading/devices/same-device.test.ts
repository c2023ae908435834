import { describe, expect, it } from "vitest";
import { readBook } from "../../../../src/book/reading/read.ts";
import { deviceKey } from "../../../../src/book/records/device-key.ts";
import { alikeKey } from "../../../../src/book/records/alike-keys.ts";
import type { Reading } from "../../../../src/book/records/records.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

const HEADINGS = ["Device", "Site", "Electrode set replaced"];
const DATE = on("2026-06-01");

function register(...rows: readonly (readonly Typed[])[]): Reading {
  return readBook(bookOf([sheetOf("Kit", [HEADINGS, ...rows])]), oursOf());
}
const devices = (...ids: readonly string[]): Reading =>
  register(...ids.map((id): Typed[] => [id, "North", DATE]));

describe("identifiers that are written in several ways", () => {
  it.each([
    ["AABR 002", "AABR-002"],
    ["AABR 006", "AABR 6"],
    ["AABR 003", "aabr003"],
    ["N.1-2", "N1 02"],
  ])("are told and never taken for one: %s, %s", (one, other) => {
    const reading = devices(one, other);
    expect(told(reading)).toEqual(["devices alike A3"]);
    expect(new Set(reading.devices.map(({ key }) => key)).size).toBe(2);
    expect(reading.problems[0]?.cause).toContain(`may be "${one}" in row 2`);
  });

  it.each([
    ["A-1-12", "A-11-2"],
    ["A-10", "A-1"],
    ["A-1", "B-1"],
    ["A-100", "A-1000"],
  ])("are apart where a number differs: %s, %s", (one, other) => {
    expect(alikeKey(deviceKey(one))).not.toBe(alikeKey(deviceKey(other)));
    expect(told(devices(one, other))).toEqual([]);
  });
});

describe("identifiers with letters that look like digits", () => {
  it.each([
    ["HS-O13", "HS-013"],
    ["HS-1O", "HS-10"],
    ["AB-l2", "AB-12"],
    ["AB-I2", "AB 12"],
    ["K20I", "K201"],
    ["HS-O13", "HS-13"],
  ])("are told as perhaps one device: %s, %s", (one, other) => {
    const reading = devices(one, "ZZ-5", other);
    expect(told(reading)).toEqual(["devices alike A4"]);
    const [problem] = reading.problems;
    expect(problem?.severity).toBe("notice");
    expect(problem?.cause).toBe(
      `"${other}" may be "${one}" in row 2, with a letter for a digit that looks like it; they count as two devices.`,
    );
    expect(reading.devices).toHaveLength(3);
  });

  it.each([
    [["L1", "L2", "L3", "11", "12"]],
    [["AO1", "A01", "AO2", "A02", "AO3"]],
    [["Coil 1", "Coi 11"]],
    [["HS-S5", "HS-55"]],
    [["Labor 1", "Labo 11"]],
  ])("are apart where the letter begins a row of names, or is no digit: %s", (ids) => {
    expect(told(devices(...ids))).toEqual([]);
  });
});

describe("a remark that names another device", () => {
  const remarked = (...remarks: readonly (readonly [string, string | null])[]): Reading => {
    const rows = remarks.map(([id, note]): Typed[] => [id, "North", DATE, note]);
    return readBook(bookOf([sheetOf("Kit", [[...HEADINGS, "Comments"], ...rows])]), oursOf());
  };

  it.each([
    ["label says HS-012"],
    ["Etikett HS 012"],
    ["étiquette : hs-012"],
    ["was HS-012 before"],
    ["beschriftet mit HS-012"],
    ["HS-012?"],
  ])("is told: %s", (remark) => {
    const reading = remarked(["HS-012", null], ["HS-021", remark]);
    expect(told(reading)).toEqual(["unweighed remark D3"]);
    expect(reading.problems[0]?.cause).toContain('names another device, "HS-012" in row 2');
    expect(reading.problems[0]?.severity).toBe("notice");
  });

  it.each([["HS-021 is the blue one"], ["lot HS-0127"], ["new case 12"], ["see 2026"]])(
    "is nothing where it names none of them, or its own: %s",
    (remark) => {
      expect(told(remarked(["HS-012", null], ["12", null], ["HS-021", remark]))).toEqual([]);
    },
  );

  it("is told once where many do", () => {
    const many = Array.from({ length: 9 }, (_, at): [string, string] => [
      `U-${at + 1}`,
      `spare for U-${((at + 1) % 9) + 1}`,
    ]);
    const reading = remarked(...many);
    expect(told(reading)).toEqual(["unweighed remark D2"]);
    expect(reading.problems[0]?.cause).toContain("and so do 8 more remarks");
  });
});

describe("identifiers that repeat", () => {
  const rows = (sites: readonly string[]): Typed[][] =>
    sites.flatMap((site) => ["S 1", "S 2"].map((id): Typed[] => [id, site, DATE]));

  it("at each of several sites may be numbered by site, and the fix says so", () => {
    const { problems } = register(...rows(["North", "South"]));
    expect(problems.map(({ kind }) => kind)).toEqual([
      ...Array<string>(4).fill("duplicate device"),
      // Once above everything.
      "device column",
    ]);
    expect(problems[0]?.fix).toContain('write the site into the identifier, such as "North S 1"');
  });

  it("at one site are to stand once", () => {
    const { problems } = register(...rows(["North", "North"]));
    expect(problems[0]?.fix).toBe("Keep one row for each device.");
  });
});

describe("what stands behind a device's name", () => {
  it("is heard like a remark", () => {
    const reading = devices("S 1", "S 2 (retired 1/9/26)", "S 3 - do not use", "S 4 (left)");
    expect(told(reading)).toEqual(["remark A3", "remark A4"]);
  });
});

describe("rows that are no device", () => {
  it("say how many devices there are", () => {
    const reading = register(["S 1", "North", DATE], ["1 device", null, null]);
    expect(reading.devices).toHaveLength(1);
    expect(told(reading)).toEqual(["subtotal row *3"]);
  });

  it("are told where they state an interval for a part", () => {
    const note = "Local policy: ear cushions every 2 months at all sites";
    const reading = register(["S 1", "North", DATE], [note, null, null]);
    expect(reading.devices).toHaveLength(1);
    expect(told(reading).sort()).toEqual(["own limit unclear A3", "unweighed remark *3"]);
  });

  it("may stand in a summary, which is told", () => {
    const rows = [
      ["Device", "Max of Electrode set replaced"],
      ["North", DATE],
      ["S 1", DATE],
    ];
    const reading = readBook(bookOf([sheetOf("Report", rows)]), oursOf());
    expect(told(reading)).toContain("summary B*");
  });
});
