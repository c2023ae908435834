import { describe, expect, it } from "vitest";
import { nearDevices, withNearDevices } from "../../../../src/book/reading/jobs/near-devices.ts";
import { JUNE, kitOf, logOf, readLog } from "../../../scenes/our-log.ts";
import { on, type Typed } from "../../../scenes/scene.ts";

const KIT = kitOf("HS-01", "HS-02");
const crack = (device: Typed): Typed[] => [on("2026-06-22"), device, "SET", "inspected", "crack"];
const done = (device: Typed, ...more: Typed[]): Typed[] => [
  ...[JUNE, device, "SET", "replaced", null, "yes", ...more],
];
const FINE = [done("HS-01"), done("HS-02")];

describe(nearDevices.name, () => {
  it("finds the one that is written alike", () => {
    const near = nearDevices(["hs-01", "hs-02", "b-1", "b-01"]);
    expect(["hs1", "hs 01", "hs-o1", "hs-1", "b1", "hs-3", ""].map(near)).toEqual([
      ...["hs-01", "hs-01", "hs-01", "hs-01", null, null, null],
    ]);
  });
});

describe(withNearDevices.name, () => {
  it.each(["HS1", "hs 01", "HS-1", "HS-O1"])("puts out of use what is damaged: %s", (device) => {
    const { out, before } = readLog(KIT, logOf([...FINE, crack(device)]));
    expect(out).toEqual(["HS-01 SET"]);
    expect(before).toContain("it counts for HS-01 until that is settled");
  });

  it.each(["HS-60", "all", "HS-01/HS-02", null])("is told first of all else: %s", (device) => {
    const { out, before } = readLog(KIT, logOf([...FINE, crack(device)]));
    expect(out).toEqual([]);
    expect(before).toContain("it may be of any device and puts none out of use");
  });

  it("is told in the check alone where the finding is over", () => {
    const later = [on("2026-06-23"), "HS-60", "SET", "replaced", null, "yes"];
    const away = [on("2026-06-23"), "HS-60", "SET", "withdrawn"];
    for (const row of [later, away]) {
      const { before, told } = readLog(KIT, logOf([...FINE, crack("HS-60"), row]));
      expect(before).not.toContain("puts none out of use");
      expect(told).toContain("unknown device Job log");
    }
  });

  it("is answered by a later replacement under the same name", () => {
    const later = [on("2026-06-25"), "HS1", "SET", "replaced", null, "yes"];
    const { out, before } = readLog(KIT, logOf([...FINE, crack("HS1"), later]));
    expect(out).toEqual([]);
    expect(before).not.toContain("until that is settled");
    const other = [on("2026-06-25"), "HS1", "CUSHION", "replaced", null, "yes"];
    expect(readLog(KIT, logOf([...FINE, crack("HS1"), other])).out).toEqual(["HS-01 SET"]);
  });

  it("counts neither as a replacement nor as an inspection", () => {
    const row = [on("2026-06-22"), "HS1", "SET", "replaced", "crack", "yes"];
    const { reading } = readLog(KIT, logOf([...FINE, row]));
    expect(reading.ours.jobs.at(-1)).toMatchObject({ deviceKey: "hs-01", job: "" });
  });

  it.each(["HS-60", "HS1", "HS-01/HS-02", "all", null])(
    "is no proof of a date that no other row has: %s",
    (device) => {
      const { unsure } = readLog(KIT, logOf([done(device, "L1"), done("HS-02")]));
      expect(unsure).toEqual(["HS-01 SET"]);
    },
  );

  it("leaves the dates alone where the device has a name of its own", () => {
    const days = ["2025-06-02", "2025-10-01", "2026-02-02"];
    const rows = days.map((day) => [on(day), ...done("OLD-7").slice(1)]);
    const { unsure } = readLog(KIT, logOf([...rows, done("OLD-7"), done("HS-02")]));
    expect(unsure).toEqual([]);
  });
});
