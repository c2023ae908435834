import { describe, expect, it } from "vitest";
import { unreadCounts } from "../../../../src/book/reading/counts/unread-counts.ts";
import { doubtsSay } from "../../../../src/book/records/doubts.ts";
import { cellKey } from "../../../../src/book/workbook/snapshot.ts";
import { on, readSheets, sheetOf, type Typed } from "../../../scenes/scene.ts";

const IDS = ["V-1", "V-2", "V-3", "V-4"];
const DAYS = ["2026-05-04", "2026-03-17", "2026-04-22", "2026-02-05"];
const HEAD: Typed[] = ["Device", "Electrode set replaced"];
const MONTHS = ["2026-02-01", "2026-03-01", "2026-04-01", "2026-05-01"].map(on);
const KIT = IDS.map((id, at): Typed[] => [id, on(DAYS[at] ?? "")]);
const COUNTS = IDS.map((id, at): Typed[] => [id, 31 + at, 40 - 3 * at, 28 + 2 * at, 35 - at]);
const OPEN = IDS.map((id): Typed[] => [id, null, null, null, null]);

/** What is said above every answer of a register and these rows of counts. */
function said(rows: readonly Typed[][], more: Parameters<typeof sheetOf>[2] = {}): string {
  return doubtsSay(readSheets([sheetOf("Kit", [HEAD, ...KIT]), sheetOf("Tests", rows, more)])).join(
    " ",
  );
}

const formulas = (first: number): ReadonlyMap<number, string> =>
  new Map(
    IDS.flatMap((_, row) =>
      MONTHS.map((__, at) => [cellKey(row + 1, first + at), "SUM(Z1:Z9)"] as const),
    ),
  );

describe(unreadCounts.name, () => {
  it("tells formulas that no program has calculated", () => {
    const head: Typed[] = ["Device", ...MONTHS];
    expect(said([head, ...OPEN], { formulas: formulas(1) })).toMatch(
      /^Tests has 16 formulas without a result among its counts/u,
    );
    expect(said([head, ...OPEN])).toBe("");
    expect(said([["Device", "A", "B", "C", "D"], ...OPEN], { formulas: formulas(1) })).toMatch(
      /^Formulas of Tests have no result/u,
    );
    expect(said([head, ...COUNTS])).toBe("");
  });
  it("tells them on the register too", () => {
    const rows = KIT.map((row): Typed[] => [...row, null, null, null, null]);
    const sheet = sheetOf("Kit", [[...HEAD, ...MONTHS], ...rows], { formulas: formulas(2) });
    expect(doubtsSay(readSheets([sheet])).join(" ")).toMatch(
      /^Kit has 16 formulas without a result/u,
    );
  });
  it("tells numbers beside devices under no headings", () => {
    expect(said(COUNTS)).toMatch(/^Tests has numbers beside devices and no headings/u);
    expect(said(COUNTS.slice(0, 2))).toBe("");
    expect(said([["Device", "Beds", "Rooms", "Floor", "Wing"], ...COUNTS])).toBe("");
  });
});
