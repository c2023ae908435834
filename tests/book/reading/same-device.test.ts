import { describe, expect, it } from "vitest";
import { readBook } from "../../../src/book/reading/read.ts";
import { alikeKey, deviceKey } from "../../../src/book/records/device-key.ts";
import type { Reading } from "../../../src/book/records/records.ts";
import { bookOf, on, oursOf, sheetOf, told, type Typed } from "../../scenes/scene.ts";

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

describe("identifiers that repeat", () => {
  const rows = (sites: readonly string[]): Typed[][] =>
    sites.flatMap((site) => ["S 1", "S 2"].map((id): Typed[] => [id, site, DATE]));

  it("at each of several sites may be numbered by site, and the fix says so", () => {
    const { problems } = register(...rows(["North", "South"]));
    expect(problems.map(({ kind }) => kind)).toEqual(Array(4).fill("duplicate device"));
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
    expect(told(reading)).toEqual(["unweighed remark *3"]);
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
