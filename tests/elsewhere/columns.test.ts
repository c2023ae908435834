import { onlyRegister } from "../scenes/scene.ts";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import type { Plan } from "../../src/book/workbook/plan.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import {
  type CellValue,
  type Sheet,
  sheetNamed,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { officeMissing, recalculated } from "./office.ts";
import { filteredBook } from "../scenes/filtered.ts";
import { randomBook } from "../scenes/random-book.ts";

/**
 * The portable columns, recalculated from nothing but their formulas by LibreOffice, against the core.
 * The stored results are the core's; a hard recalculation throws them away first.
 */
const missing = officeMissing();
if (missing !== null) {
  process.stderr.write(`Portable columns are not recalculated elsewhere: ${missing}.\n`);
}

const CASES: readonly {
  readonly name: string;
  readonly plan: Plan;
  readonly system: 1900 | 1904;
  readonly filtered?: true;
}[] = [
  { name: "the demonstration", plan: demoBook(DEMO_SEED, false).plan, system: 1900 },
  { name: "the untidy demonstration", plan: demoBook(DEMO_SEED, true).plan, system: 1900 },
  {
    name: "the demonstration sorted through the user's own filter",
    ...{ plan: demoBook(DEMO_SEED, false).plan, system: 1900, filtered: true },
  },
  { name: "3,000 random rows", plan: randomBook(3000, 7, 1900), system: 1900 },
  { name: "3,000 random rows in a 1904 book", plan: randomBook(3000, 11, 1904), system: 1904 },
  {
    name: "a date for each position",
    plan: randomBook(1000, 13, 1900, { positions: "each" }),
    system: 1900,
  },
  {
    name: "the earliest date counts",
    plan: randomBook(1000, 17, 1904, { positions: "earliest" }),
    system: 1904,
  },
  { name: "own limits", plan: randomBook(1000, 19, 1900, { ownLimits: true }), system: 1900 },
  {
    name: "own limits of positions",
    plan: randomBook(1000, 23, 1904, { positions: "each", ownLimits: true }),
    system: 1904,
  },
];

interface Case {
  readonly sheet: Sheet;
  readonly columns: readonly number[];
  readonly rows: readonly number[];
  readonly key: number;
  readonly plain: readonly (readonly (string | number)[])[];
  readonly sorted: readonly (readonly (string | number)[])[];
}

describe.skipIf(missing !== null)("the portable columns in LibreOffice", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-columns-"));
  const results: Case[] = [];

  beforeAll(async () => {
    const made = CASES.map(({ plan, system, filtered }, at) => {
      const first = openWorkbook(
        filtered === true ? filteredBook().bytes : newWorkbook(plan, { dateSystem: system }),
      );
      const reading = readWorkbook(first.snapshot, REPORT_DATE, { reportDate: REPORT_DATE });
      const request = { mode: "portable", today: REPORT_DATE, force: false } as const;
      const columns = columnsPlan(first.snapshot, reading, request);
      const bytes = applyPlan(first, columns);
      const path = join(folder, `${at}.xlsx`);
      writeFileSync(path, bytes);
      const register = onlyRegister(reading);
      const sheet = sheetNamed(openWorkbook(bytes).snapshot, register.sheet);
      if (sheet === null) throw new Error("the register is gone");
      const computed = columns.edits.flatMap((edit) =>
        edit.kind === "addColumn" && edit.cells.formula ? [edit.cells.column] : [],
      );
      return { path, sheet, register, columns: computed, filtered };
    });
    const answers = await recalculated(
      made.map(({ path, register, filtered }) => ({
        path,
        sheet: register.sheet,
        sort: {
          firstRow: register.headerRow + 1,
          column: register.matches.find(({ field }) => field === "last:SET")?.column ?? 0,
          ...(filtered === undefined ? {} : { filtered }),
        },
      })),
    );
    for (const [at, { sheet, columns, register }] of made.entries()) {
      const { plain, sorted } = answers[at] ?? { plain: [], sorted: null };
      results.push({ sheet, columns, rows: register.rows, key: 0, plain, sorted: sorted ?? [] });
    }
  });

  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it.each(CASES.map(({ name }, at) => [name, at] as const))(
    "equal the core, cell for cell: %s",
    (_, at) => {
      const found = results[at];
      if (found === undefined) throw new Error("no result");
      const different: string[] = [];
      let compared = 0;
      for (const row of found.rows) {
        for (const column of found.columns) {
          const ours = shown(valueAt(found.sheet, row, column));
          const theirs = found.plain[row]?.[column] ?? "";
          compared += 1;
          if (ours !== theirs)
            different.push(`row ${row + 1} column ${column}: ${ours} and ${theirs}`);
        }
      }
      expect(different).toEqual([]);
      expect(compared).toBe(found.rows.length * found.columns.length);
      expect(found.columns.length).toBeGreaterThanOrEqual(8);
    },
  );

  it.each(CASES.map(({ name }, at) => [name, at] as const))(
    "are the same after sorting: %s",
    (_, at) => {
      const found = results[at];
      if (found === undefined) throw new Error("no result");
      const lines = (rows: Case["plain"]): string[] =>
        rows
          .slice(found.rows[0])
          .map((row) =>
            JSON.stringify([row[found.key], ...found.columns.map((column) => row[column])]),
          )
          .sort();
      expect(found.sorted).not.toEqual(found.plain);
      expect(lines(found.sorted)).toEqual(lines(found.plain));
    },
  );
});

function shown(value: CellValue): string | number {
  if (typeof value === "number" || typeof value === "string") return value;
  return value === null ? "" : JSON.stringify(value);
}
