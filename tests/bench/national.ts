import { mkdirSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { addMonths, day, type Day } from "../../src/core/day.ts";
import { chance } from "../../src/book/demo/chance.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Edit, SheetCell } from "../../src/book/workbook/plan.ts";
import { bareSite, siteRows, SITES } from "../../src/book/sheets/sites.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { partRows, PARTS } from "../../src/book/sheets/parts.ts";
import { SETUP } from "../../src/book/sheets/setup.ts";
import { setupRows } from "../../src/book/sheets/setup-rows.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { defaultSettings } from "../../src/book/records/settings.ts";

/** A national programme: ten devices a site, so many months of counts; drawn, not real. */
const REPORT_DATE = day("2026-07-06");
const MONTHS = 36;

/** Writes the workbook of a programme of so many sites; gives its path. */
export function nationalBook(sites: number): string {
  const folder = resolve("build/bench");
  mkdirSync(folder, { recursive: true });
  const random = chance(sites);
  const months = Array.from({ length: MONTHS }, (_, at) =>
    addMonths(day("2026-06-01"), at - MONTHS + 1),
  );
  const register: CellValue[][] = [
    ["Device", "Site", "Electrode set replaced", "Ear cushion replaced"],
  ];
  const counts: CellValue[][] = [["Device", ...months]];
  const codes: string[] = [];
  for (let site = 0; site < sites; site += 1) {
    const code = `N${String(10_000 + site)}`;
    codes.push(code);
    for (let at = 0; at < 10; at += 1) {
      const device = `${code}-${at}`;
      const mean = 10 + random.below(60);
      register.push([
        device,
        code,
        REPORT_DATE - random.below(170),
        REPORT_DATE - random.below(260),
      ]);
      counts.push([device, ...months.map(() => random.poisson(mean))]);
    }
  }
  const parts = DEFAULT_PARTS.map((part) =>
    part.task ? part : { ...part, lightUse: 20, heavyUse: 60 },
  );
  const settings = defaultSettings(REPORT_DATE);
  const edits: Edit[] = [
    sheet("Equipment", register, (column) => (column >= 2 ? "yyyy-mm-dd" : null)),
    sheet("Monthly sessions", counts, () => null, "mmm yyyy"),
    ...makeSheet(SETUP, SETUP.name, setupRows(settings, { dateSystem: 1900 })),
    ...makeSheet(PARTS, PARTS.name, partRows(parts)),
    ...makeSheet(SITES, SITES.name, siteRows(codes.map(bareSite))),
  ];
  const path = join(folder, `national-${sites}.xlsx`);
  writeFileSync(
    path,
    newWorkbook({ summary: "a national programme", edits }, { codec: NODE_CODEC }),
  );
  return path;
}

function sheet(
  name: string,
  rows: readonly (readonly CellValue[])[],
  formatOf: (column: number) => string | null,
  heading?: string,
): Edit {
  const cells = rows.flatMap((values, row) =>
    values.map((value, column): SheetCell => {
      const format =
        row === 0 ? (typeof value === "number" ? heading : undefined) : formatOf(column);
      return { row, column, value, ...(format ? { format } : {}) };
    }),
  );
  return { kind: "addSheet", sheet: name, cells, widths: [], freezeRows: 1 };
}

/** The day the programme is judged on. */
export function nationalDay(): Day {
  return REPORT_DATE;
}
