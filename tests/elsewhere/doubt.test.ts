import { onlyRegister } from "../scenes/scene.ts";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ourColumns } from "../../src/book/columns/columns.ts";
import { columnsPlan } from "../../src/book/columns/columns-plan.ts";
import { readWorkbook } from "../../src/book/reading/workbook.ts";
import { headingColumn, headingRow } from "../../src/book/sheets/layout.ts";
import type { ColumnCells, Plan } from "../../src/book/workbook/plan.ts";
import { type CellValue, sheetNamed, type Snapshot } from "../../src/book/workbook/snapshot.ts";
import { applyPlan, newWorkbook, openWorkbook } from "../../src/xlsx/index.ts";
import { cases } from "../cases.ts";
import { STEADY_DATE, steadyPlan } from "../scenes/steady-book.ts";
import { officeMissing, recalculated } from "./office.ts";

/**
 * The portable columns beside a cell of Parts, Setup, Holidays or Sites that cannot be trusted, recalculated
 * by LibreOffice from their formulas, against the library's reading of the same file: never a calmer answer,
 * and never another one.
 */
const missing = officeMissing();
if (missing !== null)
  process.stderr.write(`Doubtful cells are not recalculated elsewhere: ${missing}.\n`);

type Cell = readonly [sheet: string, row: number, heading: string, value: CellValue];
type Change = readonly [name: string, cells: readonly Cell[]];

const ERROR: CellValue = { error: "#N/A" };
const NUMBERS: readonly CellValue[] = [
  "six",
  "6",
  "6 months",
  "1,500",
  "",
  ERROR,
  true,
  -1,
  0,
  0.4,
  1e7,
  null,
];
const LIMITS = [
  "Shortest (months)",
  "Longest (months)",
  "Use budget (uses)",
  "Light use (a month)",
  "Heavy use (a month)",
];
const each = (
  sheet: string,
  row: number,
  heading: string,
  values: readonly CellValue[],
): Change[] =>
  values.map((value) => [
    `${sheet} row ${row + 1} ${heading}: ${JSON.stringify(value)}`,
    [[sheet, row, heading, value]],
  ]);
const WORDS: readonly CellValue[] = ["maybe", " no ", "NO", "yes ", "", ERROR, true, 0, null];

const CHANGES: readonly Change[] = [
  ...[0, 1, 2].flatMap((row) => LIMITS.flatMap((heading) => each("Parts", row, heading, NUMBERS))),
  ...[0, 1, 2].flatMap((row) =>
    ["Vinyl", "Dated task"].flatMap((heading) => each("Parts", row, heading, WORDS)),
  ),
  ...each("Parts", 0, "Code", ["set", " SET", "SET\u00a0", "S3T", "CUSHION", ERROR, null]),
  [
    "a code twice",
    [
      ["Parts", 3, "Code", "SET"],
      ["Parts", 3, "Shortest (months)", 1],
      ["Parts", 3, "Longest (months)", 2],
    ],
  ],
  [
    "a code twice, in small letters",
    [
      ["Parts", 3, "Code", "set "],
      ["Parts", 3, "Shortest (months)", 1],
    ],
  ],
  ["limits crossed", [["Parts", 0, "Shortest (months)", 9]]],
  ["ramp crossed", [["Parts", 0, "Light use (a month)", 90]]],
  ...["Notice days", "Counts late after (months)", "Report date"].flatMap((label) =>
    each("Setup", 0, label, [
      "soon",
      "30",
      "30 days",
      "2026-07-06",
      ERROR,
      true,
      -1,
      0,
      1.5,
      1e6,
      null,
    ]),
  ),
  ...each("Setup", 0, "Weekend", [
    "Fri",
    "7",
    "2",
    "0000011",
    "0000110",
    "1111111",
    0,
    7,
    8,
    17,
    1.5,
    true,
    ERROR,
    null,
  ]),
  [
    "a label twice",
    [
      ["Setup", 30, "Setting", "Notice days"],
      ["Setup", 30, "Value", 20],
    ],
  ],
  ["a label with a space", [["Setup", 0, "Notice days label", "Notice days "]]],
  ...each("Holidays", 0, "Date", ["2026-09-30", "autumn", 1, -3, 400000, true, ERROR, null]),
  ...each("Holidays", 1, "Date", ["2026-11-02", "autumn", 1, ERROR, true]),
  [
    "two holidays in text",
    [
      ["Holidays", 0, "Date", "autumn"],
      ["Holidays", 1, "Date", "2026-11-02"],
    ],
  ],
  ...each("Sites", 0, "Wipes", [
    "alcohol free",
    "ALCOHOL-FREE",
    "alcohol-free ",
    ERROR,
    true,
    0,
    null,
  ]),
  ...each("Sites", 0, "Code", ["S1", "s01", "S0*", ERROR, null]),
  [
    "a site twice",
    [
      ["Sites", 2, "Code", "S01"],
      ["Sites", 2, "Wipes", "alcohol"],
    ],
  ],
  [
    "a site twice, alike",
    [
      ["Sites", 2, "Code", "s01"],
      ["Sites", 2, "Wipes", "alcohol-free"],
    ],
  ],
];

const HOW_MANY = cases("doubtful neighbours", CHANGES.length, 60);
/** Spread over all kinds of cells. */
const CHOSEN = CHANGES.filter((_, at) => {
  const nth = (one: number): number => Math.floor((one * HOW_MANY) / CHANGES.length);
  return nth(at) !== nth(at - 1);
});

function planOf(book: Snapshot, cells: readonly Cell[]): Plan {
  const edits = cells.map(([name, down, heading, value]): Plan["edits"][number] => {
    const sheet = sheetNamed(book, name);
    if (sheet === null) throw new Error(`no ${name}`);
    const found = name === "Setup" && !["Setting", "Value"].includes(heading);
    const label = heading.replace(" label", "");
    const row = found
      ? sheet.values.findIndex((values) => values[0] === label)
      : headingRow(sheet) + 1 + down;
    const column = found ? (heading === label ? 1 : 0) : headingColumn(sheet, heading);
    if (column === null || row < 0) throw new Error(`no ${heading}`);
    const block: ColumnCells = { column, rows: [row], values: [value] };
    return { kind: "fillCells", sheet: name, blocks: [block], expects: {} };
  });
  return { summary: "a slip of the pen", edits };
}

interface Found {
  readonly name: string;
  readonly different: readonly string[];
  readonly compared: number;
}

describe.skipIf(missing !== null)("the portable columns beside a doubtful cell", () => {
  const folder = mkdtempSync(join(tmpdir(), "sparespan-doubt-"));
  const results: Found[] = [];

  beforeAll(async () => {
    const first = openWorkbook(newWorkbook(steadyPlan()));
    const request = { mode: "portable", today: STEADY_DATE, force: false } as const;
    const right = readWorkbook(first.snapshot, STEADY_DATE);
    const bytes = applyPlan(first, columnsPlan(first.snapshot, right, request));
    const made = CHOSEN.map(([name, cells], at) => {
      const book = openWorkbook(bytes);
      const spoilt = applyPlan(book, planOf(book.snapshot, cells));
      const path = join(folder, `${at}.xlsx`);
      writeFileSync(path, spoilt);
      return { name, path, snapshot: openWorkbook(spoilt).snapshot };
    });
    const { sheet } = onlyRegister(right);
    const answers = await recalculated(made.map(({ path }) => ({ path, sheet })));
    made.forEach(({ name, snapshot }, at) => {
      const cells = answers[at]?.plain ?? [];
      results.push({ name, ...compared(snapshot, cells) });
    });
  }, 580_000);

  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it("equal the library, cell for cell, in at least 2,000 cells", () => {
    expect(results.filter(({ different }) => different.length > 0)).toEqual([]);
    const all = results.reduce((sum, one) => sum + one.compared, 0);
    process.stdout.write(`doubtful neighbours: ${all} cells compared in ${results.length} books\n`);
    expect(all).toBeGreaterThanOrEqual(2000);
  });
});

function compared(
  snapshot: Snapshot,
  cells: readonly (readonly (string | number)[])[],
): Omit<Found, "name"> {
  const reading = readWorkbook(snapshot, STEADY_DATE);
  const different: string[] = [];
  let count = 0;
  const columns = ourColumns(snapshot, reading, "portable").flatMap((one) => one.columns);
  for (const { title, column, there, computed, values } of columns) {
    if (computed === null || !there) continue;
    onlyRegister(reading).rows.forEach((row, at) => {
      const ours = shown(values[at] ?? null);
      const theirs = cells[row]?.[column] ?? "";
      count += 1;
      if (ours !== theirs) different.push(`${title}, row ${row + 1}: ${ours} and ${theirs}`);
    });
  }
  return { different: different.slice(0, 6), compared: count };
}

function shown(value: CellValue): string | number {
  if (typeof value === "number" || typeof value === "string") return value;
  return value === null ? "" : JSON.stringify(value);
}
