import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { type CellValue, sheetNamed, valueAt } from "../../src/book/workbook/snapshot.ts";
import { applyPlan, openWorkbook } from "../../src/xlsx/index.ts";
import { bytesOf, SEVERAL, SEVERAL_DATE, withCounts } from "../scenes/several-sheets.ts";
import { officeMissing, recalculated } from "./office.ts";

/** The portable columns of registers on several sheets, recalculated by LibreOffice, against the core. */
const missing = officeMissing();
if (missing !== null) {
  process.stderr.write(`Columns of several sheets are not recalculated elsewhere: ${missing}.\n`);
}

describe.skipIf(missing !== null)("the columns of several registers in LibreOffice", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-several-"));
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it("equal the core, cell for cell, on each of their sheets", async () => {
    const request = { mode: "portable", today: SEVERAL_DATE, force: false } as const;
    const made = SEVERAL.flatMap((one, at) => {
      const first = openWorkbook(bytesOf(withCounts(one.book(), one)));
      const reading = readWorkbook(first.snapshot, SEVERAL_DATE, { reportDate: SEVERAL_DATE });
      const plan = columnsPlan(first.snapshot, reading, request);
      const bytes = applyPlan(first, plan);
      const path = join(folder, `${at}.xlsx`);
      writeFileSync(path, bytes);
      const { snapshot } = openWorkbook(bytes);
      return reading.registers.map((register) => {
        const columns = plan.edits.flatMap((edit) =>
          edit.kind === "addColumn" && edit.sheet === register.sheet && edit.cells.formula
            ? [edit.cells.column]
            : [],
        );
        return { habit: one.habit, path, snapshot, register, columns };
      });
    });
    const answers = await recalculated(
      made.map(({ path, register }) => ({ path, sheet: register.sheet })),
    );
    let compared = 0;
    const different = made.flatMap(({ habit, snapshot, register, columns }, at) => {
      const sheet = sheetNamed(snapshot, register.sheet);
      expect(sheet === null ? 0 : columns.length).toBeGreaterThanOrEqual(8);
      return register.rows.flatMap((row) =>
        columns.flatMap((column) => {
          const ours = shown(sheet === null ? null : valueAt(sheet, row, column));
          const theirs = answers[at]?.plain[row]?.[column] ?? "";
          compared += 1;
          return ours === theirs ? [] : [`${habit}, ${register.sheet} ${row}: ${ours}, ${theirs}`];
        }),
      );
    });
    expect(different).toEqual([]);
    process.stdout.write(`several registers: ${compared} cells compared\n`);
    expect(compared).toBeGreaterThanOrEqual(200);
  }, 300_000);
});

function shown(value: CellValue): string | number {
  if (typeof value === "number" || typeof value === "string") return value;
  return value === null ? "" : JSON.stringify(value);
}
