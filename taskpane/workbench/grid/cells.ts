import {
  type Area,
  cellKey,
  type CellValue,
  isCellError,
  type Sheet,
} from "../../../src/book/workbook/snapshot.ts";
import type { CellLook, SheetView } from "../../../src/xlsx/index.ts";
import { type Shown, type Sizes, sizes, type StyleId } from "./sizes.ts";
import type { GridBook } from "../sheets.ts";

/** Kinds of values as the grid counts them. */
const TEXT = 1;
const NUMBER = 2;
const TRUTH = 3;

/** A cell as the grid keeps it. */
export interface KeptCell {
  v?: string | number | boolean;
  t?: number;
  f?: string;
  s?: string;
}

/** How the grid writes down a look. */
interface KeptStyle {
  ff?: string;
  fs?: number;
  bl?: 1;
  it?: 1;
  cl?: { rgb: string };
  bg?: { rgb: string };
  ht?: number;
  tb?: number;
  bd?: Record<string, { s: number; cl: { rgb: string } }>;
  n?: { pattern: string };
}

const ACROSS = { left: 1, center: 2, right: 3 } as const;
const EDGES = { left: "l", right: "r", top: "t", bottom: "b" } as const;
const WRAP = 3;
const EDGE = { s: 1, cl: { rgb: "#BFBFBF" } };

/** A look, with a number format, in the grid's own words. */
export function styleOf(look: CellLook, format: string): KeptStyle {
  const style: KeptStyle = {};
  // Where a font is missing the browser would take one with serifs.
  if (look.font !== undefined) style.ff = `${look.font}, Arial, sans-serif`;
  if (look.size !== undefined) style.fs = look.size;
  if (look.bold) style.bl = 1;
  if (look.italic) style.it = 1;
  if (look.color !== undefined) style.cl = { rgb: `#${look.color}` };
  if (look.fill !== undefined) style.bg = { rgb: `#${look.fill}` };
  if (look.across !== undefined) style.ht = ACROSS[look.across];
  if (look.wraps) style.tb = WRAP;
  if (look.edges) style.bd = Object.fromEntries(look.edges.map((edge) => [EDGES[edge], EDGE]));
  if (format !== "General") style.n = { pattern: format };
  return style;
}

/** The value of a cell in the grid as everybody else knows it. */
export function valueOf({ v, t }: KeptCell): CellValue {
  if (v === undefined || v === "") return null;
  if (t === TRUTH) return v === 1 || v === true || v === "1";
  if (typeof v === "string" && ERRORS.has(v)) return { error: v };
  if (t === NUMBER && typeof v === "string") return Number(v);
  return v;
}

const ERRORS = new Set(
  "#N/A #VALUE! #REF! #NAME? #NUM! #DIV/0! #NULL! #SPILL! #CALC! #GETTING_DATA".split(" "),
);

/** A sheet in the grid's own words. */
export interface KeptSheet extends Sizes {
  readonly cellData: Record<number, Record<number, KeptCell>>;
  readonly mergeData: {
    startRow: number;
    endRow: number;
    startColumn: number;
    endColumn: number;
  }[];
  readonly rowCount: number;
  readonly columnCount: number;
  /** Some formula has no result yet: the grid works it out at once. */
  readonly waits: boolean;
}

const ROOM = { rows: 200, columns: 12 };
const LEAST = { rows: 300, columns: 26 };

/** All sheets of a book for the grid, and the styles their cells point to. */
export function keptBook({ snapshot, view }: GridBook): {
  readonly sheets: readonly KeptSheet[];
  readonly styles: Readonly<Record<string, KeptStyle>>;
} {
  const styles: Record<string, KeptStyle> = {};
  const styleId = (look: number, format: number): string | undefined => {
    if (look === 0 && format === 0) return undefined;
    const id = `${look}/${format}`;
    styles[id] ??= styleOf(view.looks[look] ?? {}, snapshot.formats[format] ?? "General");
    return id;
  };
  const wraps = new Set(view.looks.flatMap((look, at) => (look.wraps ? [at] : [])));
  const sheets = snapshot.sheets.map((sheet, at) =>
    keptSheet(sheet, { ...(view.sheets[at] ?? NOTHING), wraps }, styleId),
  );
  return { sheets, styles };
}

const NOTHING: SheetView = {
  name: "",
  looks: [],
  columns: new Map(),
  heights: new Map(),
  frozen: { rows: 0, columns: 0 },
  rules: [],
  choices: [],
  blocks: [],
};

function keptSheet(sheet: Sheet, view: Shown, styleId: StyleId): KeptSheet {
  const ghosts = ghostKeys(sheet, view.blocks);
  const cellData: KeptSheet["cellData"] = {};
  const rows = Math.max(sheet.values.length, sheet.formats.length, view.looks.length);
  let columns = 0;
  let waits = false;
  for (let row = 0; row < rows; row += 1) {
    const line = keptLine(row, { sheet, view, styleId, ghosts });
    if (line.width > 0) cellData[row] = line.cells;
    columns = Math.max(columns, line.width);
    waits ||= line.waits;
  }
  return {
    cellData,
    ...sizes(sheet, view, styleId),
    mergeData: sheet.merges.map(rangeOf),
    rowCount: Math.max(LEAST.rows, rows + ROOM.rows),
    columnCount: Math.max(LEAST.columns, columns + ROOM.columns),
    waits,
  };
}

interface Line {
  readonly sheet: Sheet;
  readonly view: SheetView;
  readonly styleId: StyleId;
  readonly ghosts: ReadonlySet<number>;
}

function keptLine(
  row: number,
  { sheet, view, styleId, ghosts }: Line,
): { cells: Record<number, KeptCell>; width: number; waits: boolean } {
  const values = sheet.values[row] ?? [];
  const formats = sheet.formats[row] ?? [];
  const looks = view.looks[row] ?? [];
  const width = Math.max(values.length, formats.length, looks.length);
  const cells: Record<number, KeptCell> = {};
  let waits = false;
  for (let column = 0; column < width; column += 1) {
    const key = cellKey(row, column);
    const style = styleId(looks[column] ?? 0, formats[column] ?? 0);
    const cell: KeptCell = style === undefined ? {} : { s: style };
    if (!ghosts.has(key)) putValue(cell, values[column] ?? null);
    const formula = sheet.formulas.get(key) ?? null;
    if (formula !== null && !isForeignArray(view.blocks, row, column, formula)) {
      cell.f = `=${formula}`;
      waits ||= cell.v === undefined;
    }
    if (Object.keys(cell).length > 0) cells[column] = cell;
  }
  return { cells, width, waits };
}

function putValue(cell: KeptCell, value: CellValue): void {
  if (value === null) return;
  if (isCellError(value)) {
    cell.v = value.error;
    cell.t = TEXT;
  } else if (typeof value === "boolean") {
    cell.v = value ? 1 : 0;
    cell.t = TRUTH;
  } else {
    cell.v = value;
    cell.t = typeof value === "number" ? NUMBER : TEXT;
  }
}

/** Somebody's array over many cells is shown with the results its file has; the grid leaves it alone. */
function isForeignArray(
  blocks: readonly Area[],
  row: number,
  column: number,
  formula: string,
): boolean {
  return blocks.some((block) => isIn(block, row, column)) && !formula.includes("SPARE.");
}

/** Whether a cell lies in a block. */
function isIn(block: Area, row: number, column: number): boolean {
  const { firstRow, lastRow, firstColumn, lastColumn } = block;
  return row >= firstRow && row <= lastRow && column >= firstColumn && column <= lastColumn;
}

/** Cells that a formula of ours fills from another cell: it fills them again by itself. */
function ghostKeys(sheet: Sheet, blocks: readonly Area[]): Set<number> {
  const keys = new Set<number>();
  for (const { firstRow, firstColumn, lastRow, lastColumn } of blocks) {
    const first = cellKey(firstRow, firstColumn);
    if (!sheet.formulas.get(first)?.includes("SPARE.")) continue;
    for (let row = firstRow; row <= lastRow; row += 1) {
      for (let column = firstColumn; column <= lastColumn; column += 1) {
        keys.add(cellKey(row, column));
      }
    }
  }
  return keys;
}

/** A block in the grid's own words. */
export function rangeOf({ firstRow, firstColumn, lastRow, lastColumn }: Area): {
  startRow: number;
  endRow: number;
  startColumn: number;
  endColumn: number;
} {
  return {
    startRow: firstRow,
    endRow: lastRow,
    startColumn: firstColumn,
    endColumn: lastColumn,
  };
}

/** The keys of all cells of a block. */
export function keysOf({ firstRow, firstColumn, lastRow, lastColumn }: Area): number[] {
  const keys: number[] = [];
  for (let row = firstRow; row <= lastRow; row += 1) {
    for (let column = firstColumn; column <= lastColumn; column += 1)
      keys.push(cellKey(row, column));
  }
  return keys;
}

/** The cells of a matrix by row and column, as keys. */
export function matrixKeys(matrix: Readonly<Record<number, object | null | undefined>>): number[] {
  return Object.entries(matrix).flatMap(([row, line]) =>
    Object.keys(line ?? {}).map((column) => cellKey(Number(row), Number(column))),
  );
}
