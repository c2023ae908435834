import { unzipSync, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import type { Edit } from "../../src/book/workbook/plan.ts";
import { applyPlan, openWorkbook, WorkbookError } from "../../src/xlsx/index.ts";
import { mutated, mutatedPart, numbers } from "./mutations.ts";
import { workbook, WORKBOOKS } from "../reference/workbooks/full-plan.ts";
import { cases } from "../cases.ts";

const CUT =
  "This file is cut short or damaged: get a complete copy of the workbook and try with that.";

/** How many damaged files are tried. */
const DAMAGED = cases("Damaged files", 3_000, 400);

function opening(bytes: Uint8Array): () => unknown {
  return () => openWorkbook(bytes);
}

describe("damaged files", () => {
  it.each(WORKBOOKS)("%s cut short anywhere is refused", (name) => {
    const bytes = workbook(name);
    const step = Math.max(1, Math.floor(bytes.length / 150));
    for (let length = 4; length < bytes.length; length += step) {
      expect(opening(bytes.subarray(0, length)), `${length} bytes`).toThrow(new WorkbookError(CUT));
    }
  });

  it("with any part's XML cut short are refused", () => {
    const files = unzipSync(workbook("formulas.xlsx"));
    for (const [name, content] of Object.entries(files)) {
      if (/docProps|theme|metadata|Content_Types/.test(name)) continue;
      for (let share = 0; share < 20; share += 1) {
        const cut = content.subarray(0, Math.floor((content.length * share) / 20));
        expect(opening(zipSync({ ...files, [name]: cut })), `${name} ${share}/20`).toThrow(
          WorkbookError,
        );
      }
    }
  });

  it(`give a snapshot or a sentence in ${DAMAGED} cases, never another error, and so does a plan on them`, () => {
    const random = numbers(20260706);
    const tally = { opened: 0, refused: 0, saved: 0 };
    for (let run = 0; run < DAMAGED; run += 1) {
      const name = ["formulas.xlsx", "tables.xlsx", "bare.xlsx", "untidy.xlsx"][run % 4] ?? "";
      const bytes = run % 3 === 0 ? mutated(workbook(name), random) : mutatedPart(name, random);
      tryAll(bytes, tally);
    }
    expect(tally.opened + tally.refused).toBe(DAMAGED);
    // Both ways out are well trodden, or the cases would show nothing.
    expect(Math.min(tally.opened, tally.refused, tally.saved)).toBeGreaterThan(DAMAGED / 10);
  }, 60_000);
});

function tryAll(
  bytes: Uint8Array,
  tally: { opened: number; refused: number; saved: number },
): void {
  try {
    const open = openWorkbook(bytes);
    tally.opened += 1;
    const sheet = open.snapshot.sheets[0]?.name ?? "";
    const fill = { column: 9, rows: [0, 5, 30], values: ["a", 1, true] };
    const edits: Edit[] = [{ kind: "fillCells", sheet, blocks: [fill], expects: {} }];
    openWorkbook(applyPlan(open, { summary: "Three cells", edits }));
    tally.saved += 1;
  } catch (error) {
    if (!(error instanceof WorkbookError)) throw error;
    expect(error.message).toMatch(/^[A-Z"][^\n]+\.$/);
    tally.refused += 1;
  }
}
