import { describe, expect, it } from "vitest";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { day } from "../../../src/core/day.ts";
import { openWorkbook } from "../../../src/xlsx/index.ts";
import { DEVICES, type TypedRow, typedBook } from "../../scenes/own-log-book.ts";

const TODAY = day("2026-06-30");

/** What the jobs of a confirmed log say, in the words of its lines. */
function jobsOf(rows: readonly TypedRow[]): string[] {
  const { snapshot } = openWorkbook(typedBook({ Kit: DEVICES, Diary: rows }));
  const { ours } = readWorkbook(snapshot, TODAY, { matches: new Map([["own log", "Diary"]]) });
  return ours.jobs.map(
    ({ device, part, job, finding }) => `${device} ${part} ${job === "" ? `"${finding}"` : job}`,
  );
}

/** A log of which a second column of work names the cushion of HS-1. */
const beside = (heading: string): string[] =>
  jobsOf([
    ["Date", "Device", "Changed", heading],
    ["2026-03-02", "HS-1", "electrodes", null],
    ["2026-03-03", "HS-2", "electrodes", null],
    ["2026-05-02", "HS-1", null, "cushion"],
  ]);

describe("two columns of work", () => {
  it.each(["Torn", "Found torn", "Worn", "Broken", "Gerissen", "Déchiré", "Roto", "Rasgado"])(
    "say each by its own heading what was done: %s",
    (heading) => {
      const jobs = beside(heading);
      expect(jobs).toHaveLength(3);
      expect(jobs[2]).toMatch(/^HS-1 (?:CUSHION)? "/);
    },
  );

  it.each(["Problem", "Left as is", "Still ok", "Skipped", "Missing"])(
    "count nothing by the heading of the other: %s",
    (heading) => {
      const jobs = beside(heading);
      expect(jobs.filter((job) => job.includes("CUSHION replaced"))).toEqual([]);
    },
  );

  it("are one where both say a word of it", () => {
    const jobs = jobsOf([
      ["Date", "Device", "Part", "Work"],
      ["2026-03-02", "HS-1", "electrodes", "replaced"],
      ["2026-03-03", "HS-2", "cushion", "changed"],
    ]);
    expect(jobs).toEqual(["HS-1 SET replaced", "HS-2 CUSHION replaced"]);
  });
});

describe("a line whose device is the one above", () => {
  it.each([null, '"', "ditto", "dito", "idem"])("has its damage, and no more: %s", (cell) => {
    const jobs = jobsOf([
      ["Date", "Device", "Work"],
      ["2026-03-02", "HS-1", "electrodes replaced"],
      ["2026-05-02", cell, "cushion torn"],
      ["2026-05-03", cell, "electrodes replaced"],
      ["2026-03-03", "HS-2", "electrodes replaced"],
    ]);
    expect(jobs).toHaveLength(3);
    expect(jobs[1]).toMatch(/^HS-1 CUSHION "cushion torn/);
  });

  it("is none behind a blank row", () => {
    const jobs = jobsOf([
      ["Date", "Device", "Work"],
      ["2026-03-02", "HS-1", "electrodes replaced"],
      ["2026-03-03", "HS-2", "electrodes replaced"],
      [null, null, null],
      ["2026-05-02", null, "cushion torn"],
    ]);
    expect(jobs).toHaveLength(2);
  });
});
