import type { SheetDraft, Write } from "./sheet-draft.ts";
import type { RowReader } from "../read/row-reader.ts";
import type { Sink } from "../file/sink.ts";
import { restyled, type Styles, wrapping } from "../read/styles.ts";
import type { Spelling } from "./write-cell.ts";

/** What writing the rows of a sheet needs. */
export interface RowWriting {
  readonly draft: SheetDraft;
  readonly styles: Styles;
  readonly spelling: Spelling;
  readonly columnStyle: (column: number) => number;
  readonly sink: Sink;
}

/** The cells of one row as they stand among the bytes; lists are used again for each row. */
export interface Line {
  row: number;
  style: number;
  readonly columns: number[];
  readonly starts: number[];
  readonly ends: number[];
  readonly styles: number[];
  /** Shared formulas to be written out: position of the formula and its number, by cell. */
  readonly formulas: Map<
    number,
    { readonly start: number; readonly end: number; readonly shared: number }
  >;
}

/** A row being written, and what the rows above handed down. */
export interface RowState extends RowWriting {
  /** The rows that are there, as far as they have been gone through. */
  readonly reader: RowReader;
  readonly unshared: ReadonlySet<number>;
  /** Look of the nearest cell above, by column; -1 where it is not handed down. */
  readonly above: number[];
  readonly line: Line;
}

/** A row with nothing in it. */
export function newLine(): Line {
  return { row: 0, style: 0, columns: [], starts: [], ends: [], styles: [], formulas: new Map() };
}

/** The cell formats of the written cells of a row. */
export function stylesOf(state: RowState, row: readonly Write[]): number[] {
  const styles: number[] = [];
  for (const write of row) styles.push(styleOf(state, write, row, styles.length));
  return styles;
}

/** The cell format of a written cell; it may be like one written before it in the same row. */
function styleOf(state: RowState, write: Write, row: readonly Write[], index: number): number {
  const { base, format, styles: known } = write.origin;
  if (base.kind === "style") return base.style;
  const found =
    base.kind === "like"
      ? likeStyle(state, base.column, row, index)
      : ownStyle(state, write.column, base.kind === "own");
  const text =
    base.kind === "like" && (typeof write.value === "string" || typeof write.value === "boolean");
  if (format === null && base.kind !== "like") return found;
  const key = found * 2 + (text ? 1 : 0);
  let style = known.get(key);
  if (style === undefined) {
    style = restyled(state.styles, found, format, text);
    if (write.origin.wraps) style = wrapping(state.styles, style);
    known.set(key, style);
  }
  return style;
}

function likeStyle(state: RowState, column: number, row: readonly Write[], index: number): number {
  const at = state.line.columns.indexOf(column);
  if (at >= 0) return state.line.styles[at] ?? 0;
  const written = row.findIndex((other) => other.column === column);
  const write = row[written];
  if (write && written < index) return styleOf(state, write, row, written);
  return state.line.style > 0 ? state.line.style : state.columnStyle(column);
}

function ownStyle(state: RowState, column: number, inherits: boolean): number {
  const at = state.line.columns.indexOf(column);
  if (at >= 0) return state.line.styles[at] ?? 0;
  if (state.line.style > 0) return state.line.style;
  const above = inherits ? (state.above[column] ?? -1) : -1;
  return above >= 0 ? above : state.columnStyle(column);
}

/** Notes the looks of a row for cells that will be new below it; headings keep theirs to themselves. */
export function handDown(
  state: RowState,
  writes: readonly Write[],
  styles: readonly number[] = [],
): void {
  const { line, above, draft } = state;
  const heading = draft.headingRows.has(line.row);
  line.columns.forEach((column, index) => {
    above[column] = heading ? -1 : (line.styles[index] ?? 0);
  });
  writes.forEach(({ column }, index) => {
    above[column] = heading ? -1 : (styles[index] ?? 0);
  });
}
