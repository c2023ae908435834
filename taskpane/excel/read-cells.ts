import { ourCallsShown } from "../../src/book/workbook/calls.ts";
import { cellKey, type CellValue, type Sheet } from "../../src/book/workbook/snapshot.ts";
import type { Told } from "../host.ts";
import { type Block, blockOf, cutBlock, type Looked } from "./area.ts";
import { isTooLarge } from "./faults.ts";
import { filledAreas } from "./filled.ts";
import { answerCame } from "./tally.ts";
import { newPace, type Pace } from "../pace.ts";

/** What stands in the cells of a sheet. */
export type Cells = Pick<Sheet, "values" | "formats" | "formulas" | "lost">;

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
  readonly lost: Set<number>;
}

/** Cells asked for at first: an answer of 1 MB where they hold dates and names. */
const FIRST_CELLS = 20_000;

/** Characters an answer is to have: half of what Excel on the web allows, for the next rows may be longer. */
const AIM = 2_500_000;

/**
 * Values, formulas and formats of all sheets; blocks that fit into one answer are asked for together. What
 * came back says how many cells the next request may ask for, and an answer that is refused is asked for in
 * halves: a row of our formulas takes a hundred times what a row of dates takes.
 */
export async function readCells(
  context: Excel.RequestContext,
  sheets: readonly Looked[],
  { formats, told }: Reading,
): Promise<Cells[]> {
  const areas = await filledAreas(context, sheets);
  const kept = sheets.map((): Kept => ({
    values: [],
    formats: [],
    formulas: new Map(),
    lost: new Set(),
  }));
  let open = sheets.flatMap(({ sheet }, at): Wanted[] => {
    const cells = kept[at];
    return cells === undefined
      ? []
      : (areas[at] ?? []).map((area) => ({ ...blockOf(area), sheet, cells }));
  });
  const indexes = new Map(formats.map((code, at) => [code, at]));
  const pace = newPace();
  const all = cellsOf(open);
  let most = FIRST_CELLS;
  while (open.length > 0) {
    const { batch, left } = nextBatch(open, most);
    const ranges = await answered(context, batch);
    if (ranges === null) {
      most = Math.floor(cellsOf(batch) / 2);
      continue;
    }
    let characters = 0;
    for (const [at, range] of ranges.entries()) {
      const block = batch[at];
      if (block) characters += await takeBlock(block, range, { formats, indexes, pace });
      range.untrack();
    }
    answerCame(characters);
    most = Math.max(1, Math.min(FIRST_CELLS, Math.floor((AIM * cellsOf(batch)) / characters)));
    open = left;
    told(1 - cellsOf(open) / all, "reading");
  }
  return kept;
}

const LOADED = "values,formulas,valueTypes,numberFormat";

/** Blocks from Excel; null where the answer is too large and can be asked for in halves. */
async function answered(
  context: Excel.RequestContext,
  batch: readonly Wanted[],
): Promise<Excel.Range[] | null> {
  const ranges = batch.map((block) => rangeOf(block).load(LOADED));
  try {
    await context.sync();
    return ranges;
  } catch (error) {
    if (isTooLarge(error) && cellsOf(batch) > 1) return null;
    throw error;
  }
}

/** The first blocks that have so many cells together, and what is left. */
function nextBatch(
  open: readonly Wanted[],
  mostCells: number,
): { readonly batch: readonly Wanted[]; readonly left: Wanted[] } {
  const batch: Wanted[] = [];
  let room = mostCells;
  for (const [at, block] of open.entries()) {
    if (batch.length > 0 && block.columns > room) return { batch, left: open.slice(at) };
    const [head, ...rest] = cutBlock(block, room);
    batch.push(head);
    room -= head.rows * head.columns;
    if (rest.length > 0) return { batch, left: [...rest, ...open.slice(at + 1)] };
  }
  return { batch, left: [] };
}

function cellsOf(blocks: readonly Block[]): number {
  return blocks.reduce((sum, { rows, columns }) => sum + rows * columns, 0);
}

function rangeOf({ sheet, firstRow, firstColumn, rows, columns }: Wanted): Excel.Range {
  return sheet.getRangeByIndexes(firstRow, firstColumn, rows, columns);
}

interface Taking {
  readonly formats: string[];
  readonly indexes: Map<string, number>;
  readonly pace: Pace;
}

/** Characters that a cell of an answer has besides what it holds. */
const BESIDES = 30;

/** Puts a block where it belongs; gives about how many characters it had. */
async function takeBlock(
  { firstRow, firstColumn, cells }: Wanted,
  { values, formulas, valueTypes, numberFormat }: Excel.Range,
  { formats, indexes, pace }: Taking,
): Promise<number> {
  let characters = 0;
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
        const text = ourCallsShown(formula.slice(1));
        const key = cellKey(row, column);
        cells.formulas.set(key, text);
        // Where Excel leads a call to the add-in it shows it by the function's own name.
        if (text !== formula.slice(1)) cells.lost.add(key);
      }
      const value = valueOf(raw, valueTypes[at]?.[across]);
      if (value !== null) padded(shown, column, null).push(value);
      const code = String(numberFormat[at]?.[across] ?? "General");
      if (code !== "General") padded(codes, column, 0).push(indexOf(code));
      characters += BESIDES + lengthOf(raw) + lengthOf(formula) + code.length;
    }
    if (pace.isDue()) await pace.rest();
  }
  return characters;
}

/** Characters of what stands in a cell; a number has a few, which count as the cell's. */
function lengthOf(held: unknown): number {
  return typeof held === "string" ? held.length : 0;
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
export function valueOf(
  value: unknown,
  type: Excel.RangeValueType | string | undefined,
): CellValue {
  if (type === "Empty") return null;
  if (type === "Error") return { error: String(value) };
  if (typeof value === "number" || typeof value === "boolean") return value;
  return typeof value === "string" ? value : null;
}
