import { describe, expect, it } from "vitest";
import { isoText } from "../../../../src/core/day.ts";
import { readWorkbook } from "../../../../src/book/reading/workbook.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { bookOf, on, REPORT_DATE, sheetOf, type Typed } from "../../../scenes/scene.ts";

const DATES: Typed[][] = [
  [on("2024-11-04"), on("2025-09-04"), on("2026-04-04")],
  [on("2024-12-05"), on("2025-10-05"), on("2026-05-05")],
  [on("2024-12-06"), on("2025-10-06"), null],
];
const LATEST = ["2026-04-04", "2026-05-05", "2025-10-06"];

/** The same heading with each of these words, and the other part's column. */
function read(
  heads: readonly Typed[],
  match: Readonly<Record<string, string>> = {},
  { latest = false, all = DATES } = {},
) {
  const rows = all.map((dates, at): Typed[] => [
    ...[`V-${at + 1}`, "Alder", ...dates, on("2026-05-04")],
    ...(latest ? [on(LATEST[at] ?? "")] : []),
  ]);
  const head = ["Device", "Site", ...heads, "Ear cushion replaced"];
  const sheet = sheetOf("Kit", [latest ? [...head, "Latest Electrode set"] : head, ...rows]);
  const matches = new Map(Object.entries(match));
  const reading = readWorkbook(bookOf([sheet]), REPORT_DATE, { matches });
  const dates = reading.devices.map(({ lastDone }) => {
    const date = lastDone.find(({ part }) => part === "SET")?.date ?? null;
    return date === null ? "" : isoText(date);
  });
  const fix = reading.problems.find(({ kind }) => kind === "no column")?.fix;
  return { dates, fix, before: doubtsSay(reading).join(" ") };
}

/** A part's replacements side by side, as people keep them for a history (common practice, no source). */
describe("columns of a part's replacements one after another", () => {
  it.each([
    ["years", [2024, 2025, 2026].map((year) => `Electrodes replaced ${year}`)],
    ["years before", [2024, 2025, 2026].map((year) => `${year} Electrodes`)],
    ["the same", Array<string>(3).fill("Electrodes replaced")],
    ["no part", ["1st change", "2nd change", "3rd change"]],
  ])("are told how to give the latest of them: %s", (_, heads) => {
    const { fix } = read(heads);
    expect(fix).toContain("seem to be one part's replacements, one after another");
    for (const head of heads) expect(fix).toContain(`"${head}"`);
    expect(fix).toContain(
      'head it "Latest Electrode set" and give --match "last:SET=Latest Electrode set"',
    );
    const done = read(heads, { "column last:SET": "Latest Electrode set" }, { latest: true });
    expect(done.dates).toEqual(LATEST);
    expect(done.before).toBe("");
  });

  it("are taken one by one where they are numbered, until there is one of the latest", () => {
    const heads = ["Electrodes 1st change", "Electrodes 2nd change", "Electrodes 3rd change"];
    const done = read(heads, { "column last:SET": "Latest Electrode set" }, { latest: true });
    expect(done.dates).toEqual(LATEST);
    expect(done.before).toBe("");
  });

  it("are not such where their dates fall", () => {
    const all = DATES.map((dates) => [...dates].reverse());
    const { fix } = read(["1st change", "2nd change", "3rd change"], {}, { all });
    expect(fix).not.toContain("one after another");
  });
});
