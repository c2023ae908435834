import { type CellTag, plainColumn, readCellTag, rowOf } from "../read/cell-tag.ts";
import { isPlainCell, newPlainCell } from "../read/plain-cell.ts";
import { cellText } from "../xml/escape.ts";
import { expanded } from "../read/formulas.ts";
import type { Place } from "../xml/outline.ts";
import type { SheetDraft, Write } from "./sheet-draft.ts";
import { put } from "../file/sink.ts";
import {
  handDown,
  type Line,
  newLine,
  type RowState,
  type RowWriting,
  stylesOf,
} from "./row-styles.ts";
import { putCell, resultXml } from "./write-cell.ts";
import { attribute, numberOf } from "../xml/attributes.ts";
import { next, readXml, skipTo, type Xml } from "../xml/xml.ts";

/** Writes the sheetData element with the draft's cells in their places; all other rows are copied as they stand. */
export function writeRows(writing: RowWriting, place: Place): void {
  const { draft, sink } = writing;
  const xml = readXml(draft.text, draft.path);
  const state = { ...writing, unshared: unsharedIn(draft), above: [], line: newLine() };
  const order: number[] = [];
  draft.writes.forEach((_, row) => order.push(row));
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
    reached = row;
    put(sink, draft.text.slice(copied, xml.start));
    newRowsUpTo(row);
    const touched = order[turn] === row;
    if (touched) turn += 1;
    state.line.row = row;
    copied = writeOldRow(state, xml, touched ? (draft.writes[row] ?? []) : []);
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

/** Shared formulas whose first cell is written over: the others must carry their own text. */
function unsharedIn(draft: SheetDraft): Set<number> {
  const found = new Set<number>();
  for (const [index, { row, column }] of draft.content.source.shared) {
    const write = draft.writes[row]?.find((other) => other.column === column);
    if (write && !write.origin.keeps) found.add(index);
  }
  return found;
}

/** Writes a row that is there already and returns where the text goes on. */
function writeOldRow(state: RowState, xml: Xml, writes: readonly Write[]): number {
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
    const before = xml.text.slice(xml.start, from).trimEnd();
    return before + xml.text.slice((xml.attributes[at + 3] ?? 0) + 1, xml.end);
  }
  return xml.text.slice(xml.start, xml.end);
}

/** Notes where the cells of the row just opened stand, and reads behind its end. */
function scanCells(state: RowState, xml: Xml): void {
  const { line } = state;
  line.columns.length = line.starts.length = line.ends.length = line.styles.length = 0;
  line.formulas.clear();
  if (xml.empty) return;
  const depth = xml.stack.length;
  const tag: CellTag = { column: -1, style: 0, type: "n" };
  for (;;) {
    while (state.unshared.size === 0 && isPlainCell(xml, PLAIN)) notePlain(line, xml);
    if (!next(xml)) return;
    if (xml.kind === "close" && xml.stack.length < depth) return;
    if (xml.kind !== "open") continue;
    if (xml.name === "c") {
      tag.column = line.columns.at(-1) ?? -1;
      readCellTag(xml, line.row, tag);
      line.columns.push(tag.column);
      line.starts.push(xml.start);
      line.styles.push(tag.style);
      if (state.unshared.size > 0) noteShared(state, xml, tag.column);
      skipTo(xml, depth);
      line.ends.push(xml.at);
    } else skipTo(xml, depth);
  }
}

const PLAIN = newPlainCell();

function notePlain({ row, columns, starts, styles, ends }: Line, xml: Xml): void {
  columns.push(plainColumn(xml, { row, column: columns.at(-1) ?? -1 }, PLAIN));
  starts.push(xml.at);
  styles.push(PLAIN.style);
  ends.push(PLAIN.end);
  xml.at = PLAIN.end;
}

function noteShared(state: RowState, xml: Xml, column: number): void {
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
function mergeCells(state: RowState, writes: readonly Write[], from: number): number {
  const { draft, sink, line } = state;
  const styles = stylesOf(state, writes);
  let copied = from;
  let turn = 0;
  const copyUpTo = (end: number): void => {
    if (end > copied) put(sink, draft.text.slice(copied, end));
    copied = end;
  };
  const newCellsUpTo = (limit: number): void => {
    for (let write = writes[turn]; write && write.column < limit; write = writes[turn]) {
      const style = styles[turn] ?? 0;
      const drops = write.value === null && !write.origin.formula && style === 0;
      if (!drops) putCell(sink, write, { row: line.row, style }, state.spelling);
      turn += 1;
    }
  };
  for (let index = 0; index < line.columns.length; index += 1) {
    const column = line.columns[index] ?? 0;
    const write = writes[turn];
    const own = write !== undefined && write.column <= column;
    if (!own && !line.formulas.has(column)) continue;
    copyUpTo(line.starts[index] ?? 0);
    newCellsUpTo(column);
    const over = writes[turn];
    if (over?.column === column) {
      copied = line.ends[index] ?? 0;
      putOver(state, over, styles[turn] ?? 0, index);
      turn += 1;
    } else if (line.formulas.has(column)) {
      put(sink, unsharedCell(state, index, column));
      copied = line.ends[index] ?? 0;
    }
  }
  copyUpTo(line.ends.at(-1) ?? from);
  newCellsUpTo(Infinity);
  handDown(state, writes, styles);
  return copied;
}

/** Writes a cell over the one that stands at a place of the row. */
function putOver(state: RowState, write: Write, style: number, index: number): void {
  const { line, draft, spelling, sink } = state;
  if (!write.origin.keeps) {
    putCell(sink, write, { row: line.row, style }, spelling);
    return;
  }
  const stays = line.formulas.has(write.column)
    ? unsharedCell(state, index, write.column)
    : draft.text.slice(line.starts[index], line.ends[index]);
  put(sink, resultXml(stays, write, style, spelling.prefix));
}

/** A cell that stays, its shared formula written out because the first cell of it is gone. */
function unsharedCell(state: RowState, index: number, column: number): string {
  const { text, content } = state.draft;
  const start = state.line.starts[index] ?? 0;
  const end = state.line.ends[index] ?? 0;
  const formula = state.line.formulas.get(column);
  const shared = formula && content.source.shared.get(formula.shared);
  if (!formula || !shared) return text.slice(start, end);
  const p = state.spelling.prefix;
  const own = cellText(expanded(shared, state.line.row, column));
  return `${text.slice(start, formula.start)}<${p}f>${own}</${p}f>${text.slice(formula.end, end)}`;
}

function writeNewRow(state: RowState, row: number): void {
  const writes = state.draft.writes[row] ?? [];
  const { line, sink, spelling } = state;
  line.row = row;
  line.style = 0;
  line.columns.length = 0;
  const styles = stylesOf(state, writes);
  const tag = `${spelling.prefix}row`;
  let isOpen = false;
  for (const [index, write] of writes.entries()) {
    const style = styles[index] ?? 0;
    if (write.value === null && !write.origin.formula && style === 0) continue;
    if (!isOpen) put(sink, `<${tag} r="${row + 1}">`);
    isOpen = true;
    putCell(sink, write, { row, style }, spelling);
  }
  if (isOpen) put(sink, `</${tag}>`);
  handDown(state, writes, styles);
}
