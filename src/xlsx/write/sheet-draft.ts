import type { ColumnCells, Formula } from "../../book/workbook/plan.ts";
import {
  type Area,
  address,
  cellKey,
  type CellValue,
  type Sheet,
} from "../../book/workbook/snapshot.ts";
import { inAreas } from "../read/areas.ts";
import { WorkbookError } from "../file/errors.ts";
import {
  expanded,
  formulaAt,
  type RowFormula,
  rowFormula,
  sharedFormula,
} from "../read/formulas.ts";
import { MOST_COLUMNS, MOST_ROWS, MOST_TEXT } from "../file/limits.ts";
import type { SheetContent } from "../read/read-sheet.ts";
import { remembering } from "../../book/records/remembering.ts";

/**
 * Where a written cell takes its look from: the row's cell in another column, its own (else that of the
 * cell above), its own alone (else that of its row or column), or a cell format.
 */
export type Base =
  | { readonly kind: "like"; readonly column: number }
  | { readonly kind: "own" }
  | { readonly kind: "alone" }
  | { readonly kind: "style"; readonly style: number };

/** What the cells of one block have in common. */
export interface Origin {
  readonly formula: RowFormula | null;
  readonly format: string | null;
  readonly base: Base;
  /** Long text goes on in a second line, as headings of ours need. */
  readonly wraps: boolean;
  /** Cell formats found so far, by what they come from. */
  readonly styles: Map<number, number>;
  /** Last row of a formula that the cells of a column may share; null when each carries its own. */
  readonly sharedTo: number | null;
  /** Number of the shared formula once its first cell is written. */
  shared: number | null;
  /** What is alike in the cells that share it, by the type of their results. */
  readonly heads: Map<string, { readonly style: number; readonly text: string }>;
  /** The cell keeps its formula as the file has it, and only shows another result. */
  readonly keeps?: true;
  /** The cells the formula fills from its own one on; absent when it is that one alone. */
  readonly spill?: { readonly rows: number; readonly columns: number };
}

/** One cell to be written. */
export interface Write {
  readonly column: number;
  readonly value: CellValue;
  readonly origin: Origin;
  /** Where it stands for many cells: what they are alike in, once it has been written twice. */
  tail?: Tail | "once" | null;
}

/** The bytes of a cell behind the number of its row, with the cell format they were written for. */
interface Tail {
  readonly style: number;
  readonly bytes: Uint8Array;
}

/** A sheet and what a plan does to it. */
export interface SheetDraft {
  readonly name: string;
  readonly path: string;
  /** Its text without its rows. */
  readonly text: string;
  readonly content: SheetContent;
  /** The sheet as it was read; null for one the plan adds. */
  readonly before: Sheet | null;
  /** By row, in the order of their columns; rows without any are holes. */
  readonly writes: Write[][];
  readonly widths: Map<number, number>;
  /** Columns of a new sheet that are out of sight. */
  readonly hiddenColumns: Set<number>;
  /** Rows whose look is not handed down to the cells below. */
  readonly headingRows: Set<number>;
  /** New elements directly under the root, or inside a counted list, by name. */
  readonly added: Map<string, string[]>;
  /** Elements under the root that replace the one of that name. */
  readonly replaced: Map<string, string>;
  /** Number the next rule gets; null until the sheet's own have been read. */
  nextPriority: number | null;
}

/** A draft of a sheet without changes. */
export function draftOf(
  name: string,
  path: string,
  found: { readonly content: SheetContent; readonly before: Sheet | null },
): SheetDraft {
  const headingRows = new Set<number>();
  for (const table of found.before?.tables ?? []) headingRows.add(table.area.firstRow);
  if (found.before?.filter) headingRows.add(found.before.filter.area.firstRow);
  return {
    name,
    path,
    text: found.content.text,
    ...found,
    writes: [],
    widths: new Map(),
    hiddenColumns: new Set(),
    headingRows,
    added: new Map(),
    replaced: new Map(),
    nextPriority: null,
  };
}

/** What a block's cells share. */
export function originOf(base: Base, formula?: Formula, format?: string): Origin {
  return {
    formula: formula ? rowFormula(formula) : null,
    format: format ?? null,
    base,
    wraps: false,
    styles: new Map(),
    sharedTo: null,
    shared: null,
    heads: new Map(),
  };
}

/** Puts the cells of a column into the draft. */
export function writeColumn(draft: SheetDraft, cells: ColumnCells, base: Base): void {
  if (cells.rows.length !== cells.values.length) {
    throw new WorkbookError(
      `A plan for ${draft.name} names ${cells.rows.length} rows and ${cells.values.length} values: make the plan again.`,
    );
  }
  const alone = originOf(base, cells.formula, cells.format);
  const origin = { ...alone, sharedTo: sharedTo(cells, alone.formula) };
  const { column } = cells;
  // Most columns hold few values: cells of a column that hold the same are one write.
  const write = remembering((value: CellValue): Write => ({ column, value, origin, tail: null }));
  cells.rows.forEach((row, index) => {
    writeCell(draft, row, write(cells.values[index] ?? null));
  });
}

/**
 * A formula that only names its own row and fixed cells is stored once for the whole column, as
 * spreadsheet programs do; the file is several times smaller. Formulas that reach into other sheets
 * are never shared by those programs and are not here.
 */
function sharedTo(cells: ColumnCells, formula: RowFormula | null): number | null {
  let first = Infinity;
  let last = -1;
  for (const row of cells.rows) {
    first = Math.min(first, row);
    last = Math.max(last, row);
  }
  if (!formula || formula.live || first >= last) return null;
  const text = formulaAt(formula.stored, first);
  if (text.includes("!")) return null;
  const shared = sharedFormula(text, first, cells.column);
  const moves = [first + 1, last].every(
    (row) => expanded(shared, row, cells.column) === formulaAt(formula.stored, row),
  );
  return moves ? last : null;
}

/** Puts one cell into the draft; a later write to the same cell wins. */
export function writeCell(draft: SheetDraft, row: number, write: Write): void {
  checkWrite(draft, row, write);
  const { column } = write;
  const { blocks } = draft.content.source;
  if (blocks.length > 0 && inAreas(blocks, row, column) && !isOurArray(draft, row, column)) {
    throw arrayError(draft, row, column);
  }
  putWrite(draft, row, write);
}

/**
 * Puts a cell into the draft that somebody changed in a grid: a result that was worked out anew may
 * stand in an array, and an array of ours may give way. Other people's arrays stay whole.
 */
export function writeUserEdit(draft: SheetDraft, row: number, write: Write): void {
  checkWrite(draft, row, write);
  const { column, origin } = write;
  const within = draft.content.source.blocks.filter((block) => inAreas([block], row, column));
  const ours = ({ firstRow, firstColumn }: Area): boolean =>
    isOurArray(draft, firstRow, firstColumn);
  if (!origin.keeps && !within.every(ours)) throw arrayError(draft, row, column);
  putWrite(draft, row, write);
}

function arrayError(draft: SheetDraft, row: number, column: number): WorkbookError {
  return new WorkbookError(
    `${draft.name}!${address(row, column)} belongs to an array formula: clear that formula first.`,
  );
}

function checkWrite(draft: SheetDraft, row: number, { column, value }: Write): void {
  if (!inside(row, MOST_ROWS) || !inside(column, MOST_COLUMNS)) {
    throw new WorkbookError(`${draft.name} has no room left: the plan writes beyond the grid.`);
  }
  if (typeof value === "string" && value.length > MOST_TEXT) {
    throw new WorkbookError(
      `The text for ${draft.name}!${address(row, column)} has ${value.length} characters and a cell holds ${MOST_TEXT}: shorten it.`,
    );
  }
  if (typeof value === "number" && !Number.isFinite(value)) {
    throw new WorkbookError(
      `The value for ${draft.name}!${address(row, column)} is no number a cell can hold.`,
    );
  }
}

function putWrite(draft: SheetDraft, row: number, write: Write): void {
  const { column } = write;
  const line = draft.writes[row];
  if (!line) draft.writes[row] = [write];
  else if ((line.at(-1)?.column ?? -1) < column) line.push(write);
  else {
    const at = line.findIndex((other) => other.column >= column);
    line.splice(at, line[at]?.column === column ? 1 : 0, write);
  }
}

/**
 * The first cell of an array that calls our functions may be written over: with its formula gone the
 * other cells hold plain values. Everybody else's arrays stay whole.
 */
function isOurArray({ content }: SheetDraft, row: number, column: number): boolean {
  const first = content.source.blocks.some(
    ({ firstRow, firstColumn }) => firstRow === row && firstColumn === column,
  );
  return first && (content.formulas.get(cellKey(row, column))?.includes("SPARE.") ?? false);
}

function inside(index: number, count: number): boolean {
  return Number.isInteger(index) && index >= 0 && index < count;
}

/** Adds an element under the root or to one of its lists. */
export function addElement(draft: SheetDraft, name: string, xml: string): void {
  const list = draft.added.get(name) ?? [];
  list.push(xml);
  draft.added.set(name, list);
}

/** What a cell will hold, as the plan stands so far. */
export function valueInDraft(draft: SheetDraft, row: number, column: number): CellValue {
  const write = draft.writes[row]?.find((other) => other.column === column);
  return write ? write.value : (draft.content.values[row]?.[column] ?? null);
}

/** The block of cells a draft's sheet uses, written ones included; null when it is empty. */
export function usedArea(draft: SheetDraft): Area | null {
  if (draft.writes.length === 0) return null;
  const area = { firstRow: MOST_ROWS, firstColumn: MOST_COLUMNS, lastRow: 0, lastColumn: 0 };
  draft.writes.forEach((line, row) => {
    area.firstRow = Math.min(area.firstRow, row);
    area.lastRow = Math.max(area.lastRow, row);
    area.firstColumn = Math.min(area.firstColumn, line[0]?.column ?? MOST_COLUMNS);
    area.lastColumn = Math.max(area.lastColumn, line.at(-1)?.column ?? 0);
  });
  return area;
}
