import { describe, expect, it } from "vitest";
import type { Reading, ShelfItem } from "../../../../src/book/records/records.ts";
import { bareSite } from "../../../../src/book/sheets/sites.ts";
import { on, oursOf, readSheets, sheetOf, told, type Typed } from "../../../scenes/scene.ts";

/** Words people spell or choose differently: a doubtful one is told, and never guessed at. */
const HEADINGS = ["Device", "Site", "Commissioned", "Status", "Electrode set replaced"];
const FINE: Typed[] = ["VR-09", "S01", on("2024-01-10"), "In service", on("2026-05-04")];
const SHELF_ITEM: ShelfItem = {
  ...{ sheet: "Shelf", row: 3, part: "SET", site: "S01", onHand: 0, countedOn: null },
  ...{ onOrder: null, expectedOn: null, lot: "", expiry: null },
};

describe("status words", () => {
  const statuses = (words: readonly Typed[]): Reading => {
    const rows = words.map((word, at): Typed[] => [
      `VR-0${at}`,
      "S01",
      on("2024-01-10"),
      word,
      on("2026-02-04"),
    ]);
    return readSheets([sheetOf("Equipment", [HEADINGS, ...rows])]);
  };

  it("that plainly say retired retire a device, and those that say in service are not told", () => {
    const gone = ["Condemned", " Disposed of ", "Disposed", "Scrapped", "written off"];
    const reading = statuses([...gone, "In service", "Active", "On  loan", null]);
    expect(reading.devices.map(({ retired }) => retired)).toEqual([
      ...gone.map(() => true),
      ...[false, false, false, false],
    ]);
    expect(reading.problems).toEqual([]);
  });

  it("that may mean anything retire nothing, and each is told once with its devices and the fix", () => {
    const reading = statuses(["Withdrawn", "Not in use", "In service", "withdrawn"]);
    expect(reading.devices.some(({ retired }) => retired)).toBe(false);
    expect(told(reading)).toEqual(["unknown status D2", "unknown status D3"]);
    expect(reading.problems[0]).toMatchObject({
      severity: "notice",
      cause:
        '"Withdrawn" does not clearly say that a device has left: VR-00 and VR-03 count as in service.',
      fix: 'For a device that has left, write Retired (or disposed, disposed of, scrapped, condemned, decommissioned, written off) and the date under "Retired on"; what a state says of parts is not read.',
    });
  });
});

describe("sites", () => {
  it("that differ in case or spaces only are one, and each further spelling is told once", () => {
    const sites = ["Quorrow Cottage", "Quorrow cottage", "QUORROW  Cottage", "Quorrow cottage"];
    const rows = sites.map((site, at): Typed[] => [`VR-0${at}`, site, ...FINE.slice(2)]);
    const item = { ...SHELF_ITEM, site: "quorrow cottage" };
    const reading = readSheets(
      [sheetOf("Equipment", [HEADINGS, ...rows])],
      oursOf({}, { shelf: [item] }),
    );
    expect(reading.devices.map(({ site }) => site)).toEqual(sites.map(() => "Quorrow Cottage"));
    expect(reading.ours.shelf[0]?.site).toBe("Quorrow Cottage");
    expect(told(reading)).toEqual(["site spelled twice B3", "site spelled twice B4"]);
    expect(reading.problems[0]).toMatchObject({
      severity: "notice",
      cause:
        '"Quorrow cottage" is taken to be "Quorrow Cottage", as spelled in an earlier row: 2 devices, VR-01 and VR-03.',
      fix: "Write Quorrow Cottage there.",
    });
    const known = readSheets(
      [sheetOf("Equipment", [HEADINGS, ["VR-00", "north  field", ...FINE.slice(2)]])],
      oursOf({}, { sites: [{ ...bareSite("S01"), name: "North Field" }] }),
    );
    expect(known.problems).toEqual([]);
  });
});
