import { describe, expect, it } from "vitest";
import { withYearSlips } from "../../../../src/book/reading/jobs/year-slips.ts";
import { kitOf, logOf, readLog } from "../../../scenes/our-log.ts";
import { on, type Typed } from "../../../scenes/scene.ts";

const KIT = kitOf("HS-01", "HS-02");
const row = (date: string, device: string, job: string, ...more: Typed[]): Typed[] => [
  ...[on(date), device, "SET", job, ...more],
];
const look = (date: string): Typed[] => row(date, "HS-02", "inspected", "clean");
const done = (device: string): Typed[] => row("2026-06-01", device, "replaced", null, "yes");
const weeks = (month: string): Typed[][] =>
  ["01", "08", "15", "22"].map((day) => look(`${month}-${day}`));
const LOG = [
  ...["2026-02", "2026-03", "2026-04", "2026-05"].flatMap(weeks),
  done("HS-01"),
  done("HS-02"),
];
const crack = (date: string): Typed[] => row(date, "HS-01", "inspected", "crack");

/** Damage typed below rows of June 2026, which a replacement of 1 June would answer. */
describe(withYearSlips.name, () => {
  it.each(["2025-06-15", "2024-06-20", "2016-06-22"])("stays open and is told: %s", (date) => {
    const { out, before } = readLog(KIT, logOf([...LOG, look("2026-06-08"), crack(date)]));
    expect(out).toEqual(["HS-01 SET"]);
    expect(before).toContain("Job log!A23 (Date)");
  });

  it("stays open in the middle of the log", () => {
    const rows = [...LOG, look("2026-06-08"), crack("2025-06-09"), look("2026-06-10")];
    expect(readLog(KIT, logOf(rows)).out).toEqual(["HS-01 SET"]);
  });

  it("stays open beside another of that year", () => {
    const rows = [...LOG, look("2026-06-08"), crack("2025-06-15"), look("2025-06-16")];
    const cracks = [...rows, row("2025-06-17", "HS-02", "inspected", "crack"), look("2026-06-18")];
    expect(readLog(KIT, logOf(cracks)).out).toEqual(["HS-01 SET", "HS-02 SET"]);
  });

  it.each([
    ["of another time of the year", [...LOG, crack("2025-11-15")]],
    ["where it belongs", [crack("2025-06-15"), ...LOG]],
    ["in a log that nobody keeps by date", [...[...LOG].reverse(), crack("2025-06-15")]],
  ])("is answered %s", (_, rows) => {
    const { out, before } = readLog(KIT, logOf(rows));
    expect([out, before]).toEqual([[], ""]);
  });
});
