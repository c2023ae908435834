import { cellKey, type CellValue, type Sheet } from "../../src/book/workbook/snapshot.ts";
import type { Told } from "../host.ts";
import { type Block, blocksOf, type Looked, MOST_CELLS } from "./area.ts";
import { filledAreas } from "./filled.ts";
import { newPace, type Pace } from "../pace.ts";

type Cells = Pick<Sheet, "values" | "formats" | "formulas">;

interface Reading {
  /** Number formats met so far; cells point into it. */
  readonly formats: string[];
  readonly told: Told;
}

/** A block of a sheet and where its cells go. */
interface Wanted extends Block {
  readonly sheet: Excel.Worksheet;
  readonly cells: Kept;
}

interface Kept {
  readonly values: CellValue[][];
  readonly formats: number[][];
  readonly formulas: Map<number, string>;
}

/** Values, formulas and formats of all sheets: blocks that fit into one answer are asked for together. */
export async function readCells(
  context: Excel.RequestContext,
  sheets: readonly Looked[],
  { formats, told }: Reading,
): Promise<Cells[]> {
  const areas = await filledAreas(context, sheets);
  const kept = sheets.map((): Kept => ({ values: [], formats: [], formulas: new Map() }));
  const wanted = sheets.flatMap(({ sheet }, at): Wanted[] => {
    const cells = kept[at];
    if (cells === undefined) return [];
    const blocks = (areas[at] ?? []).flatMap((area) => blocksOf(area, MOST_CELLS));
    return blocks.map((block) => ({ ...block, sheet, cells }));
  });
  const indexes = new Map(formats.map((code, at) => [code, at]));
  const pace = newPace();
  let done = 0;
  for (const batch of batchesOf(wanted)) {
    const ranges = batch.map((block) => ({ block, range: rangeOf(block).load(LOADED) }));
    await context.sync();
    for (const { block, range } of ranges) {
      await takeBlock(block, range, { formats, indexes, pace });
      range.untrack();
    }
    done += batch.length;
    told(done / wanted.length, "reading");
  }
  return kept;
}

const LOADED = "values,formulas,valueTypes,numberFormat";

/** Blocks in batches, none of more cells than an answer may carry. */
function batchesOf(wanted: readonly Wanted[]): Wanted[][] {
  const batches: Wanted[][] = [];
  let cells = MOST_CELLS;
  for (const block of wanted) {
    const more = block.rows * block.columns;
    cells += more;
    if (cells <= MOST_CELLS) batches.at(-1)?.push(block);
    else {
      batches.push([block]);
      cells = more;
    }
  }
  return batches;
}

function rangeOf({ sheet, firstRow, firstColumn, rows, columns }: Wanted): Excel.Range {
  return sheet.getRangeByIndexes(firstRow, firstColumn, rows, columns);
}

interface Taking {
  readonly formats: string[];
  readonly indexes: Map<string, number>;
  readonly pace: Pace;
}

async function takeBlock(
  { firstRow, firstColumn, cells }: Wanted,
  { values, formulas, valueTypes, numberFormat }: Excel.Range,
  { formats, indexes, pace }: Taking,
): Promise<void> {
  const indexOf = (code: string): number => {
    const known = indexes.get(code);
    if (known !== undefined) return known;
    const index = formats.push(code) - 1;
    indexes.set(code, index);
    return index;
  };
  for (const [at, line] of values.entries()) {
    const row = firstRow + at;
    const shown = rowAt(cells.values, row);
    const codes = rowAt(cells.formats, row);
    for (const [across, raw] of line.entries() as Iterable<[number, unknown]>) {
      const column = firstColumn + across;
      const formula: unknown = formulas[at]?.[across];
      // A text that begins with = is read back as it is; only a formula differs from its value.
      if (typeof formula === "string" && formula.startsWith("=") && formula !== raw) {
        cells.formulas.set(cellKey(row, column), formula.slice(1));
      }
      const value = valueOf(raw, valueTypes[at]?.[across]);
      if (value !== null) padded(shown, column, null).push(value);
      const code = String(numberFormat[at]?.[across] ?? "General");
      if (code !== "General") padded(codes, column, 0).push(indexOf(code));
    }
    if (pace.isDue()) await pace.rest();
  }
}

/** A row of cells, made with all rows above it where it is missing. */
function rowAt<T>(rows: T[][], row: number): T[] {
  while (rows.length <= row) rows.push([]);
  return rows[row] ?? [];
}

/** Cells up to a column, blanks put where there are none. */
function padded<T>(cells: T[], column: number, blank: T): T[] {
  while (cells.length < column) cells.push(blank);
  return cells;
}

/** A cell's value; Excel hands errors over as their text, and a blank as an empty one. */
function valueOf(value: unknown, type: Excel.RangeValueType | string | undefined): CellValue {
  if (type === "Empty") return null;
  if (type === "Error") return { error: String(value) };
  if (typeof value === "number" || typeof value === "boolean") return value;
  return typeof value === "string" ? value : null;
}
