import { columnHere, rowOf } from "./cells.ts";
import { broken } from "./errors.ts";
import { cellText } from "./escape.ts";
import { expanded } from "./formulas.ts";
import type { Place } from "./outline.ts";
import type { SheetDraft, Write } from "./sheet-draft.ts";
import { put, type Sink } from "./sink.ts";
import { restyled, type Styles } from "./styles.ts";
import { cellXml, type Spelling } from "./write-cell.ts";
import { attribute, next, numberOf, readXml, skipTo, type Xml } from "./xml.ts";

/** What writing the rows of a sheet needs. */
export interface RowWriting {
  readonly draft: SheetDraft;
  readonly styles: Styles;
  readonly spelling: Spelling;
  readonly columnStyle: (column: number) => number;
  readonly sink: Sink;
}

/** The cells of one row as they stand in the text; lists are used again for each row. */
interface Line {
  row: number;
  style: number;
  readonly columns: number[];
  readonly starts: number[];
  readonly ends: number[];
  readonly styles: number[];
  /** Shared formulas to be written out: position of the formula in the text and its number, by cell. */
  readonly formulas: Map<
    number,
    { readonly start: number; readonly end: number; readonly shared: number }
  >;
}

interface State extends RowWriting {
  readonly unshared: ReadonlySet<number>;
  /** Look of the nearest cell above, by column. */
  readonly above: Map<number, number>;
  readonly line: Line;
}

/** Writes the sheetData element with the draft's cells in their places; all other rows are copied as they stand. */
export function writeRows(writing: RowWriting, place: Place): void {
  const { draft, sink } = writing;
  const xml = readXml(draft.text, draft.path);
  const state = { ...writing, unshared: unsharedIn(draft), above: new Map(), line: newLine() };
  const order = [...draft.writes.keys()].sort((a, b) => a - b);
  xml.at = place.start;
  next(xml);
  const tag = draft.text.slice(place.start, place.openEnd);
  put(sink, place.empty ? `${tag.slice(0, -2)}>` : tag);
  let copied = place.openEnd;
  let reached = -1;
  let turn = 0;
  const newRowsUpTo = (limit: number): void => {
    for (let row = order[turn]; row !== undefined && row < limit; row = order[turn]) {
      writeNewRow(state, row);
      turn += 1;
    }
  };
  while (!place.empty && next(xml) && xml.stack.length > 0) {
    if (xml.kind !== "open" || xml.name !== "row") continue;
    const row = rowOf(xml, reached);
    if (row <= reached) throw broken(draft.path, "its rows are out of order");
    reached = row;
    put(sink, draft.text.slice(copied, xml.start));
    newRowsUpTo(row);
    const touched = order[turn] === row;
    if (touched) turn += 1;
    state.line.row = row;
    copied = writeOldRow(state, xml, touched ? (draft.writes.get(row) ?? []) : []);
  }
  put(sink, draft.text.slice(copied, place.closeStart));
  newRowsUpTo(Infinity);
  put(
    sink,
    place.empty
      ? `</${writing.spelling.prefix}sheetData>`
      : draft.text.slice(place.closeStart, place.end),
  );
}

function newLine(): Line {
  return { row: 0, style: 0, columns: [], starts: [], ends: [], styles: [], formulas: new Map() };
}

/** Shared formulas whose first cell is written over: the others must carry their own text. */
function unsharedIn(draft: SheetDraft): Set<number> {
  const found = new Set<number>();
  for (const [index, { row, column }] of draft.content.source.shared) {
    if (draft.writes.get(row)?.some((write) => write.column === column)) found.add(index);
  }
  return found;
}

/** Writes a row that is there already and returns where the text goes on. */
function writeOldRow(state: State, xml: Xml, writes: readonly Write[]): number {
  const { draft, sink, line } = state;
  const { start, end, empty } = xml;
  line.style = numberOf(xml, "s") ?? 0;
  const opening = writes.length > 0 ? withoutSpans(xml) : draft.text.slice(start, end);
  scanCells(state, xml);
  if (writes.length === 0 && line.formulas.size === 0) {
    put(sink, draft.text.slice(start, xml.at));
    handDown(state, []);
    return xml.at;
  }
  put(sink, empty ? `${opening.slice(0, -2)}>` : opening);
  const rest = mergeCells(state, writes, end);
  put(sink, empty ? `</${state.spelling.prefix}row>` : draft.text.slice(rest, xml.at));
  return xml.at;
}

function withoutSpans(xml: Xml): string {
  for (let at = 0; at < xml.count; at += 4) {
    const from = xml.attributes[at] ?? 0;
    if (!xml.text.startsWith("spans=", from)) continue;
    return (
      xml.text.slice(xml.start, from) + xml.text.slice((xml.attributes[at + 3] ?? 0) + 1, xml.end)
    );
  }
  return xml.text.slice(xml.start, xml.end);
}

/** Notes where the cells of the row just opened stand, and reads behind its end. */
function scanCells(state: State, xml: Xml): void {
  const { line } = state;
  line.columns.length = line.starts.length = line.ends.length = line.styles.length = 0;
  line.formulas.clear();
  if (xml.empty) return;
  const depth = xml.stack.length;
  let column = -1;
  while (next(xml)) {
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    if (xml.name === "c") {
      const before = column;
      column = columnHere(xml, line.row, column);
      if (column <= before)
        throw broken(xml.part, `the cells of row ${line.row + 1} are out of order`);
      line.columns.push(column);
      line.starts.push(xml.start);
      line.styles.push(numberOf(xml, "s") ?? 0);
      if (state.unshared.size > 0) noteShared(state, xml, column);
      skipTo(xml, depth);
      line.ends.push(xml.at);
    } else skipTo(xml, depth);
  }
}

function noteShared(state: State, xml: Xml, column: number): void {
  if (xml.empty) return;
  const depth = xml.stack.length;
  while (xml.stack.length >= depth && next(xml)) {
    if (xml.kind !== "open" || xml.name !== "f" || attribute(xml, "t") !== "shared") continue;
    const shared = numberOf(xml, "si") ?? -1;
    const { start } = xml;
    skipTo(xml, depth);
    if (state.unshared.has(shared)) {
      state.line.formulas.set(column, { start, end: xml.at, shared });
    }
  }
}

/** Writes old and new cells of a row in the order of their columns and returns where the text goes on. */
function mergeCells(state: State, writes: readonly Write[], from: number): number {
  const { draft, sink, line } = state;
  const styles = writes.map((write, index) => styleOf(state, write, writes.slice(0, index)));
  let copied = from;
  let turn = 0;
  const newCellsUpTo = (limit: number): void => {
    for (let write = writes[turn]; write && write.column < limit; write = writes[turn]) {
      const style = styles[turn] ?? 0;
      const drops = write.value === null && !write.origin.formula && style === 0;
      if (!drops) put(sink, cellXml(write, line.row, style, state.spelling));
      turn += 1;
    }
  };
  for (const [index, column] of line.columns.entries()) {
    const start = line.starts[index] ?? 0;
    const end = line.ends[index] ?? 0;
    put(sink, draft.text.slice(copied, start));
    newCellsUpTo(column);
    const write = writes[turn];
    if (write?.column === column) {
      put(sink, cellXml(write, line.row, styles[turn] ?? 0, state.spelling));
      turn += 1;
    } else put(sink, keptCell(state, column, start, end));
    copied = end;
  }
  newCellsUpTo(Infinity);
  handDown(state, writes, styles);
  return copied;
}

/** A cell that stays, its shared formula written out where the first cell of it is gone. */
function keptCell(state: State, column: number, start: number, end: number): string {
  const { text, content } = state.draft;
  const formula = state.line.formulas.get(column);
  const shared = formula && content.source.shared.get(formula.shared);
  if (!formula || !shared) return text.slice(start, end);
  const p = state.spelling.prefix;
  const own = cellText(expanded(shared, state.line.row, column));
  return `${text.slice(start, formula.start)}<${p}f>${own}</${p}f>${text.slice(formula.end, end)}`;
}

function writeNewRow(state: State, row: number): void {
  const writes = state.draft.writes.get(row) ?? [];
  const { line, sink, spelling } = state;
  line.row = row;
  line.style = 0;
  line.columns.length = 0;
  const styles = writes.map((write, index) => styleOf(state, write, writes.slice(0, index)));
  let cells = "";
  for (const [index, write] of writes.entries()) {
    const style = styles[index] ?? 0;
    if (write.value !== null || write.origin.formula || style > 0) {
      cells += cellXml(write, row, style, spelling);
    }
  }
  if (cells !== "") {
    const tag = `${spelling.prefix}row`;
    put(sink, `<${tag} r="${row + 1}">${cells}</${tag}>`);
  }
  handDown(state, writes, styles);
}

/** The cell format of a written cell. */
function styleOf(state: State, write: Write, before: readonly Write[]): number {
  const { base, format, styles: known } = write.origin;
  if (base.kind === "style") return base.style;
  const found =
    base.kind === "like" ? likeStyle(state, base.column, before) : ownStyle(state, write.column);
  const text =
    base.kind === "like" && (typeof write.value === "string" || typeof write.value === "boolean");
  if (format === null && base.kind === "own") return found;
  const key = found * 2 + (text ? 1 : 0);
  let style = known.get(key);
  if (style === undefined) {
    style = restyled(state.styles, found, format, text);
    known.set(key, style);
  }
  return style;
}

function likeStyle(state: State, column: number, before: readonly Write[]): number {
  const at = state.line.columns.indexOf(column);
  if (at >= 0) return state.line.styles[at] ?? 0;
  const written = before.findIndex((write) => write.column === column);
  const write = before[written];
  if (write) return styleOf(state, write, before.slice(0, written));
  return state.line.style > 0 ? state.line.style : state.columnStyle(column);
}

function ownStyle(state: State, column: number): number {
  const at = state.line.columns.indexOf(column);
  if (at >= 0) return state.line.styles[at] ?? 0;
  if (state.line.style > 0) return state.line.style;
  return state.above.get(column) ?? state.columnStyle(column);
}

/** Notes the looks of a row for cells that will be new below it; headings keep theirs to themselves. */
function handDown(state: State, writes: readonly Write[], styles: readonly number[] = []): void {
  const { line, above, draft } = state;
  const heading = draft.headingRows.has(line.row);
  for (const [index, column] of line.columns.entries()) {
    if (heading) above.delete(column);
    else above.set(column, line.styles[index] ?? 0);
  }
  for (const [index, { column }] of writes.entries()) {
    if (heading) above.delete(column);
    else above.set(column, styles[index] ?? 0);
  }
}
