import { describe, expect, it } from "vitest";
import { columnsPlan } from "../../../src/book/columns/columns-plan.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import { headingColumn, headingRow } from "../../../src/book/sheets/layout.ts";
import type { CellValue } from "../../../src/book/workbook/snapshot.ts";
import { sheetNamed } from "../../../src/book/workbook/snapshot.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../../src/xlsx/index.ts";
import { STEADY_DATE, steadyPlan } from "../../scenes/steady-book.ts";

/** Our columns of a part stand beside a Parts sheet that names it otherwise than when they were added. */
function readAfter(row: number, heading: string, value: CellValue) {
  const first = openWorkbook(newWorkbook(steadyPlan()));
  const request = { mode: "portable", today: STEADY_DATE, force: false } as const;
  const reading = readWorkbook(first.snapshot, STEADY_DATE);
  const book = openWorkbook(applyPlan(first, columnsPlan(first.snapshot, reading, request)));
  const parts = sheetNamed(book.snapshot, "Parts");
  const column = parts === null ? null : headingColumn(parts, heading);
  if (parts === null || column === null) throw new Error(`no ${heading}`);
  const blocks = [{ column, rows: [headingRow(parts) + row], values: [value] }];
  const edit = { kind: "fillCells", sheet: "Parts", blocks, expects: {} } as const;
  const changed = openWorkbook(applyPlan(book, { summary: "another name", edits: [edit] }));
  return readWorkbook(changed.snapshot, STEADY_DATE);
}

describe("our columns of a part", () => {
  it.each([
    ["that was renamed", 1, "Name", "Ear pad"],
    ["whose code is now that of another", 1, "Code", "CUSHION"],
  ] as const)(
    "%s are no dates, intervals or states of the register's own",
    (_, row, heading, value) => {
      const { problems, registers } = readAfter(row, heading, value);
      const kinds = problems.map(({ kind }) => kind);
      expect(kinds).not.toContain("own limit");
      expect(kinds).not.toContain("remark");
      const headings = registers.flatMap(({ matches }) => matches.map(({ heading }) => heading));
      expect(headings).toContain("Ear cushion replaced");
      expect(headings.filter((heading) => /: (?:next due|interval|state)/u.test(heading))).toEqual(
        [],
      );
    },
  );
});
