import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { ourColumns } from "../../src/book/columns/columns.ts";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import type { Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import type { CellValue, Snapshot } from "../../src/book/workbook/snapshot.ts";
import { day, toSerial } from "../../src/core/day.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { onlyRegister } from "../scenes/scene.ts";
import { officeMissing, recalculated } from "./office.ts";

/**
 * What an interval is counted from where the register and a log of the programme's own have a date each:
 * LibreOffice calculates it and all that follows from the formulas, against the library.
 */
const missing = officeMissing();
if (missing !== null)
  process.stderr.write(`Own logs are not recalculated elsewhere: ${missing}.\n`);

const TODAY = day("2026-06-30");
const REGISTER: readonly CellValue[] = [
  null,
  ...["2026-01-05", "2026-02-20", "2026-03-02", "2026-03-04", "2026-04-02", "2026-05-20"].map(day),
  ...["2026-08-01", "1999-01-01"].map(day),
  day("2026-03-20") + 0.5,
  ...[0, -3, "March", "", "  ", true, false],
];
const LOGGED = [null, "2026-03-02", "2026-06-12"] as const;

function bookOf(system: Snapshot["dateSystem"]): Uint8Array {
  const register: SheetCell[] = [];
  const log: SheetCell[] = [];
  const put = (cells: SheetCell[], row: number, values: readonly CellValue[]): void => {
    values.forEach((value, column) => {
      const format = typeof value === "number" ? { format: "dd/mm/yyyy" } : {};
      if (value !== null) cells.push({ row, column, value, ...format });
    });
  };
  const serial = (value: CellValue): CellValue =>
    typeof value === "number" && value > 1000 ? value - TODAY + toSerial(TODAY, system) : value;
  put(register, 0, ["Device", "Electrodes changed"]);
  put(log, 0, ["When", "Unit", "What was done"]);
  let row = 0;
  for (const date of REGISTER) {
    for (const logged of LOGGED) {
      row += 1;
      put(register, row, [`HS-${row}`, serial(date)]);
      if (logged === null) put(log, row, [serial(day("2026-02-02")), `HS-${row}`, "cleaned"]);
      else put(log, row, [serial(day(logged)), `HS-${row}`, "new electrodes"]);
    }
  }
  const sheet = (name: string, cells: SheetCell[]): Plan["edits"][number] => ({
    kind: "addSheet",
    sheet: name,
    cells,
    widths: [],
    freezeRows: 0,
  });
  const edits = [sheet("Kit", register), sheet("Diary", log)];
  return newWorkbook({ summary: "a book", edits }, { dateSystem: system });
}

const MATCHES = new Map([["own log", "Diary"]]);

describe.skipIf(missing !== null)("what the interval is counted from", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-own-log-"));
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });
  it.each([1900, 1904] as const)(
    "is the library's in every row, in a workbook of %i, and every state that follows",
    async (system) => {
      const first = openWorkbook(bookOf(system));
      const request = { mode: "portable", today: TODAY, force: false } as const;
      const before = readWorkbook(first.snapshot, TODAY, { matches: MATCHES });
      const bytes = applyPlan(first, columnsPlan(first.snapshot, before, request));
      const path = join(folder, `${system}.xlsx`);
      writeFileSync(path, bytes);
      const [answer] = await recalculated([{ path, sheet: "Kit" }]);
      const cells = answer?.plain ?? [];
      const { snapshot } = openWorkbook(bytes);
      const reading = readWorkbook(snapshot, TODAY);
      const different: string[] = [];
      let compared = 0;
      const [ours] = ourColumns(snapshot, reading, "portable");
      for (const { title, column, there, formula, values } of ours?.columns ?? []) {
        if (formula === null || !there) continue;
        onlyRegister(reading).rows.forEach((row, at) => {
          const known = shown(values[at] ?? null);
          const theirs = cells[row]?.[column] ?? "";
          compared += 1;
          if (known !== theirs) different.push(`${title}, row ${row + 1}: ${known} and ${theirs}`);
        });
      }
      expect(different).toEqual([]);
      // Counted from, interval, due, state and check of two parts, and Judged on.
      expect(compared).toBe(REGISTER.length * LOGGED.length * 10);
      expect(columnsPlan(snapshot, reading, request).edits).toEqual([]);
    },
    580_000,
  );
});

function shown(value: CellValue): string | number {
  return typeof value === "number" || typeof value === "string" ? value : "";
}
