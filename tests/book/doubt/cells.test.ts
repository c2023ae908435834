import { describe, expect, it } from "vitest";
import { eachSetting } from "../../../src/book/records/settings.ts";
import { headingColumn, headingRow, textOf } from "../../../src/book/sheets/layout.ts";
import { HOLIDAYS } from "../../../src/book/sheets/holidays.ts";
import { PARTS } from "../../../src/book/sheets/parts.ts";
import { SHELF } from "../../../src/book/sheets/shelf.ts";
import { SITES } from "../../../src/book/sheets/sites.ts";
import {
  type CellValue,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../../src/book/workbook/snapshot.ts";
import { steadyPlan } from "../../scenes/steady-book.ts";
import { emptyPaper, onPaper } from "../../taskpane/paper.ts";
import { calmer, outcomeOf } from "./outcome.ts";

/**
 * Every kind of cell of our sheets spoilt in every way, one at a time: the check tells the cell, and no job
 * is calmer than with the true value. A value that may well be the true one is left to the suite that
 * knows what cannot be told.
 */
const BOOK = onPaper(emptyPaper(), steadyPlan());
const TRUE = outcomeOf(BOOK);

const WAYS: readonly (readonly [string, (value: CellValue, unit: string) => CellValue])[] = [
  ["a word", () => "soon"],
  ["a number in text", (value) => textOf(value)],
  ["a number with its unit", (value, unit) => `${textOf(value)} ${unit}`],
  ["an ambiguous number", () => "1,500"],
  ["two numbers", () => "3-4"],
  ["an error", () => ({ error: "#N/A" })],
  ["TRUE", () => true],
  ["a negative", (value) => (typeof value === "number" ? -value : -1)],
  ["nought", () => 0],
  ["ten times", (value) => (typeof value === "number" ? value * 10 : 10)],
  ["a tenth", (value) => (typeof value === "number" ? value / 10 : 0.1)],
];

/** Numbers that may be true, by hand from what Read me says of each cell; anything else is text or a word. */
const MAY_BE: Readonly<Record<string, readonly [from: number, to: number, whole: boolean]>> = {
  "Shortest (months)": [1, 120, true],
  "Longest (months)": [1, 120, true],
  "Use budget (uses)": [1, 1e6, false],
  "Light use (a month)": [0, 1e6, false],
  "Heavy use (a month)": [0, 1e6, false],
  "Inspections a week": [0, 7, true],
  "Units a replacement": [1, 1e5, true],
  "Pack size": [1, 1e5, true],
  "Pack price": [0, 1e9, false],
  "Early replacement cost": [0, 1e9, false],
  "Lead time (days)": [0, 3660, true],
  "Lead time spread (days)": [0, 3660, false],
  "Shelf life (months)": [1, 1200, false],
  "Births a year": [0, 1e6, false],
  "Expected uses (a device a month)": [0, 1e6, false],
  "On hand": [0, 1e5, true],
  "On order": [0, 1e5, true],
  "Notice days": [0, 3660, true],
  Weekend: [1, 17, true],
  "Sessions per baby": [1, 1000, false],
  "Counts late after (months)": [0, 120, true],
  "Service level": [0.5, 0.9999, false],
  "Days between orders": [0, 366, true],
  "Fiscal year starts in month": [1, 12, true],
  "Price rise a year": [-0.5, 1, false],
  "Budget level": [0.5, 0.9999, false],
  "Freight an order": [0, 1e9, false],
  "Births screened": [0.01, 1, false],
};
const DATES = new Set(["Counted on", "Expected on", "Expiry", "Date", "Report date"]);
const WORDS: Readonly<Record<string, readonly string[]>> = {
  Vinyl: ["yes", "no"],
  "Dated task": ["yes", "no"],
  Wipes: ["alcohol", "alcohol-free"],
  "Counts are": ["babies", "sessions"],
  "Zero counts are real": ["yes", "no"],
  "Text dates read": ["dmy", "mdy"],
  "Spares kept": ["site", "device", "programme"],
};

/** That a site's code is another one shows in the register, not on Sites. */
const SITE_CODE = "Site code";

function mayBeTrue(heading: string, value: CellValue, right: CellValue): boolean {
  if (value === right || value === null) return true;
  // A code of a weekend is the same code as text.
  if (heading === "Weekend" && textOf(right) === value) return true;
  const limits = MAY_BE[heading];
  if (limits !== undefined) return isWithin(limits, value);
  if (DATES.has(heading)) return isWithin([36526, 73050, false], value);
  const words = WORDS[heading];
  if (words !== undefined) return typeof value === "string" && words.includes(value);
  if (heading === "Currency") return typeof value === "string" && /^[A-Z]{3}$/.test(value);
  // Names, item numbers and lots: whatever can be read is text.
  return heading !== "Code" && (typeof value === "string" || typeof value === "number");
}

function isWithin(
  [from, to, whole]: readonly [number, number, boolean],
  value: CellValue,
): boolean {
  if (typeof value !== "number") return false;
  return value >= from && value <= to && (!whole || Number.isInteger(value));
}

interface Spoilt {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly heading: string;
  readonly right: CellValue;
  readonly unit: string;
}

function sheetOf(book: Snapshot, name: string): Sheet {
  const sheet = sheetNamed(book, name);
  if (sheet === null) throw new Error(`no ${name}`);
  return sheet;
}

/** The cells of a layout's first row, or of a setting's value. */
function cellsOf(layout: typeof PARTS, rowsDown: readonly number[]): Spoilt[] {
  const sheet = sheetOf(BOOK, layout.name);
  return rowsDown.flatMap((down) =>
    layout.columns.map(({ heading }) => {
      const row = headingRow(sheet) + 1 + down;
      const column = headingColumn(sheet, heading) ?? -1;
      const right = valueAt(sheet, row, column);
      return {
        sheet: layout.name,
        row,
        column,
        heading: layout === SITES && heading === "Code" ? SITE_CODE : heading,
        right,
        unit: unitOf(heading),
      };
    }),
  );
}

function unitOf(heading: string): string {
  if (heading.includes("(months)")) return "months";
  if (heading.includes("days") || heading === "Notice days") return "days";
  if (/use/i.test(heading)) return "uses";
  if (/price|cost|freight/i.test(heading)) return "EUR";
  return /units|hand|order|pack/i.test(heading) ? "sets" : "of them";
}

function settingCells(): Spoilt[] {
  const sheet = sheetOf(BOOK, "Setup");
  const labels = eachSetting().map(([, { label }]) => label);
  return labels.map((heading) => {
    const row = sheet.values.findIndex((values) => values[0] === heading);
    const right = valueAt(sheet, row, 1);
    return { sheet: "Setup", row, column: 1, heading, right, unit: unitOf(heading) };
  });
}

const CELLS: readonly Spoilt[] = [
  ...cellsOf(PARTS, [0, 1]),
  ...cellsOf(SITES, [0]),
  ...cellsOf(HOLIDAYS, [0]),
  ...cellsOf(SHELF, [0]),
  ...settingCells(),
];

function spoil({ sheet, row, column }: Spoilt, value: CellValue): Snapshot {
  const blocks = [{ column, rows: [row], values: [value] }];
  return onPaper(BOOK, {
    summary: "a slip of the pen",
    edits: [{ kind: "fillCells", sheet, blocks, expects: {} }],
  });
}

describe("a steady programme", () => {
  it("has no fault, so that every fault below is the cell's own", () => {
    expect(TRUE.problems.filter(({ severity }) => severity === "fault")).toEqual([]);
    expect(TRUE.upper).not.toBeNull();
    expect(TRUE.rows.size).toBe(24);
  });
});

describe.each(
  CELLS.map((cell) => [`${cell.sheet}, row ${cell.row + 1}, ${cell.heading}`, cell] as const),
)("%s", (_, cell) => {
  const spoilt = WAYS.map(([way, change]) => [way, change(cell.right, cell.unit)] as const).filter(
    ([, value]) => !mayBeTrue(cell.heading, value, cell.right),
  );
  it("is told when it is not what it must be, and nothing is calmer for it", () => {
    for (const [way, value] of spoilt) {
      const found = outcomeOf(spoil(cell, value));
      const told = found.problems.filter(
        ({ sheet, row, column, severity }) =>
          severity === "fault" &&
          sheet === cell.sheet &&
          row === cell.row &&
          column === cell.column,
      );
      expect.soft(told.length, `${way} is told`).toBe(1);
      expect.soft(calmer(found, TRUE), way).toEqual([]);
    }
  });
});
