import { describe, expect, it } from "vitest";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const KIT: Typed[][] = [
  ["Site", "Device", "Electrode set replaced"],
  ...["VR-001", "VR-002", "VR-003"].map((id): Typed[] => ["S01", id, on("2026-05-04")]),
];

function devicesAbove(label: string, count: Typed): string[] {
  return readSheets([sheetOf("E", [...KIT, [label, count]])]).devices.map(({ id }) => id);
}

describe("a row below the devices, with a number under theirs", () => {
  it.each([
    ["Total devices", 12],
    ["Anzahl Geräte", 3],
    ["Nombre d'appareils", "3"],
    ["Count", 3],
  ])("is none where %s counts them", (label, count) => {
    expect(devicesAbove(label, count)).toEqual(["VR-001", "VR-002", "VR-003"]);
  });

  it("is one at a site that others have, or with another number", () => {
    expect(devicesAbove("S01", 3)).toContain("3");
    expect(devicesAbove("Ward", 7)).toContain("7");
  });
});
