import { addMonths, type Day, day } from "../../src/core/day.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import type { Part } from "../../src/book/records/records.ts";
import { defaultSettings } from "../../src/book/records/settings.ts";
import { HOLIDAYS, holidayRows } from "../../src/book/sheets/holidays.ts";
import { JOB_LOG } from "../../src/book/sheets/job-log.ts";
import { makeSheet } from "../../src/book/sheets/make-sheet.ts";
import { partRows, PARTS } from "../../src/book/sheets/parts.ts";
import { SETUP } from "../../src/book/sheets/setup.ts";
import { setupRows } from "../../src/book/sheets/setup-rows.ts";
import { SHELF } from "../../src/book/sheets/shelf.ts";
import { bareSite, siteRows, SITES } from "../../src/book/sheets/sites.ts";
import type { Edit, Plan, SheetCell } from "../../src/book/workbook/plan.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";

/** The day everything is judged on. */
export const STEADY_DATE = day("2026-07-06");

const FIRST_COUNT = day("2025-07-01");
const MONTHS = 12;
const DEVICES = 8;
const SITES_USED = ["S01", "S02"] as const;

/** Limits, curve and supply in every cell, so that each of them can be spoilt. */
const STEADY_PARTS: readonly Part[] = DEFAULT_PARTS.map((part) =>
  part.task
    ? { ...part, supply: { ...part.supply, packPrice: 80 } }
    : {
        ...part,
        useBudget: 180,
        lightUse: 20,
        heavyUse: 60,
        vinyl: part.vinyl,
        supply: {
          ...part.supply,
          perReplacement: 1,
          pack: 2,
          packPrice: 100,
          earlyCost: 160,
          leadDays: 30,
          leadSpread: 8,
          shelfMonths: 24,
        },
      },
);

/** A small programme without a fault in which every setting matters, as a plan for an empty book. */
export function steadyPlan(): Plan {
  const settings = {
    ...defaultSettings(STEADY_DATE),
    countsAre: "babies" as const,
    dayOrder: "dmy" as const,
    priceRise: 0.03,
    freight: 12,
    coverage: 0.9,
    currency: "EUR",
  };
  const sites = SITES_USED.map((code) => ({
    ...bareSite(code),
    name: `Site ${code}`,
    wipes: "alcohol-free",
    births: 900,
    expectedUses: 30,
  }));
  const holidays = [day("2026-09-30"), day("2026-11-02")].map((date) => ({
    date,
    name: "Holiday",
  }));
  const shelf = SITES_USED.flatMap((site) =>
    ["SET", "CUSHION"].map((part): CellValue[] => [
      ...[part, site, 2, day("2026-07-01"), 1, day("2026-07-20")],
      ...["L1", day("2027-05-01")],
    ]),
  );
  const edits: Edit[] = [
    filledSheet("Equipment", registerRows(), [2, 3, 4]),
    filledSheet("Babies screened", countRows(), []),
    ...makeSheet(SETUP, SETUP.name, setupRows(settings, { dateSystem: 1900 })),
    ...makeSheet(PARTS, PARTS.name, partRows(STEADY_PARTS)),
    ...makeSheet(SITES, SITES.name, siteRows(sites)),
    ...makeSheet(HOLIDAYS, HOLIDAYS.name, holidayRows(holidays, 1900)),
    ...makeSheet(JOB_LOG, JOB_LOG.name, []),
    ...makeSheet(SHELF, SHELF.name, shelf),
  ];
  return { summary: "a steady programme", edits };
}

function registerRows(): CellValue[][] {
  const last = (at: number, months: number): Day => addMonths(day("2026-07-01"), -(at % months));
  return [
    ["Device", "Site", "Electrode set replaced", "Ear cushion replaced", "Last calibrated"],
    ...Array.from({ length: DEVICES }, (_, at) => [
      `D-${at + 1}`,
      SITES_USED[at % SITES_USED.length] ?? "",
      last(at, 5),
      last(at, 8),
      last(at, 11),
    ]),
  ];
}

function countRows(): CellValue[][] {
  const months = Array.from({ length: MONTHS }, (_, at) => addMonths(FIRST_COUNT, at));
  return [
    ["Device", ...months],
    ...Array.from({ length: DEVICES }, (_, at) => [
      `D-${at + 1}`,
      ...months.map((_one, month) => 24 + 3 * (at % 4) + (month % 3)),
    ]),
  ];
}

function filledSheet(
  sheet: string,
  rows: readonly (readonly CellValue[])[],
  dated: readonly number[],
): Edit {
  const isDate = (row: number, column: number): boolean =>
    row === 0 ? typeof rows[0]?.[column] === "number" : dated.includes(column);
  return {
    kind: "addSheet",
    sheet,
    cells: rows.flatMap((values, row) =>
      values.map((value, column): SheetCell => ({
        row,
        column,
        value,
        ...(isDate(row, column) ? { format: "yyyy-mm-dd" } : {}),
      })),
    ),
    widths: (rows[0] ?? []).map(() => 14),
    freezeRows: 1,
  };
}
