import { type CellTag, plainColumn, readCellTag } from "../read/cell-tag.ts";
import { leaveCell, nextCell, nextRow, rowReader } from "../read/row-reader.ts";
import { cellText } from "../xml/escape.ts";
import { expanded } from "../read/formulas.ts";
import type { Place } from "../xml/outline.ts";
import type { SheetDraft, Write } from "./sheet-draft.ts";
import { put, putBytes } from "../file/sink.ts";
import { handDown, newLine, type RowState, type RowWriting, stylesOf } from "./row-styles.ts";
import { putCell, resultXml } from "./write-cell.ts";
import { attribute, numberOf } from "../xml/attributes.ts";
import { said } from "../xml/references.ts";
import { next, skipTo, type Xml } from "../xml/xml.ts";

/** Writes the sheetData element with the draft's cells in their places; all other rows are copied as they stand. */
export function writeRows(writing: RowWriting, place: Place): void {
  const { draft, sink } = writing;
  const { rows } = draft.content;
  const reader = rowReader(rows);
  const state = { ...writing, reader, unshared: unsharedIn(draft), above: [], line: newLine() };
  const order: number[] = [];
  draft.writes.forEach((_, row) => order.push(row));
  const tag = draft.text.slice(place.start, place.openEnd);
  put(sink, place.empty ? `${tag.slice(0, -2)}>` : tag);
  let copied = 0;
  let turn = 0;
  const newRowsUpTo = (limit: number): void => {
    for (let row = order[turn]; row !== undefined && row < limit; row = order[turn]) {
      writeNewRow(state, row);
      turn += 1;
    }
  };
  while (nextRow(reader)) {
    const { row } = reader;
    putBytes(sink, rows.bytes, copied, reader.start);
    newRowsUpTo(row);
    const touched = order[turn] === row;
    if (touched) turn += 1;
    state.line.row = row;
    writeOldRow(state, touched ? (draft.writes[row] ?? []) : []);
    copied = reader.at;
  }
  putBytes(sink, rows.bytes, copied, rows.bytes.length);
  newRowsUpTo(Infinity);
  const end = draft.text.slice(place.closeStart, place.end);
  put(sink, place.empty ? `</${writing.spelling.prefix}sheetData>` : end);
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

/** Writes a row that is there already, and goes behind it. */
function writeOldRow(state: RowState, writes: readonly Write[]): void {
  const { sink, line, reader, spelling } = state;
  const { start, tagEnd, tag, empty } = reader;
  const { bytes } = reader.rows;
  line.style = tag === null ? 0 : (numberOf(tag, "s") ?? 0);
  const spans = tag !== null && writes.length > 0 ? withoutSpans(tag) : null;
  scanCells(state);
  if (writes.length === 0 && line.formulas.size === 0) {
    putBytes(sink, bytes, start, reader.at);
    handDown(state, []);
    return;
  }
  if (empty) put(sink, `${(spans ?? textOf(state, start, tagEnd)).slice(0, -2)}>`);
  else if (spans === null) putBytes(sink, bytes, start, tagEnd);
  else put(sink, spans);
  const rest = mergeCells(state, writes, tagEnd);
  if (empty) put(sink, `</${spelling.prefix}row>`);
  else putBytes(sink, bytes, rest, reader.at);
}

/** The tag of a row without what it says of the columns that are filled; null where it says nothing of them. */
function withoutSpans(xml: Xml): string | null {
  for (let at = 0; at < xml.count; at += 4) {
    const from = xml.attributes[at] ?? 0;
    if (!xml.text.startsWith("spans=", from)) continue;
    const before = said(xml, xml.start, from).trimEnd();
    return before + said(xml, (xml.attributes[at + 3] ?? 0) + 1, xml.end);
  }
  return null;
}

/** Notes where the cells of the row just opened stand, and reads behind its end. */
function scanCells(state: RowState): void {
  const { line, reader, unshared } = state;
  line.columns.length = line.starts.length = line.ends.length = line.styles.length = 0;
  line.formulas.clear();
  const tag: CellTag = { column: -1, style: 0, type: "n" };
  for (let form = nextCell(reader); form !== null; form = nextCell(reader)) {
    const { plain, window, base } = reader;
    if (form === "plain") {
      tag.column = plainColumn(reader.rows.part, { row: line.row, column: tag.column }, plain);
      line.starts.push(plain.start);
      line.styles.push(plain.style);
      if (unshared.has(plain.shared)) {
        const { formulaFrom: start, formulaTo: end, shared } = plain;
        line.formulas.set(tag.column, { start, end, shared });
      }
    } else if (window !== null) {
      readCellTag(window, line.row, tag);
      line.starts.push(base + window.start);
      line.styles.push(tag.style);
      if (unshared.size > 0) noteShared(state, window, tag.column);
      leaveCell(reader);
    }
    line.columns.push(tag.column);
    line.ends.push(reader.at);
  }
}

function noteShared({ unshared, line, reader }: RowState, xml: Xml, column: number): void {
  if (xml.empty) return;
  const depth = xml.stack.length;
  while (xml.stack.length >= depth && next(xml)) {
    if (xml.kind !== "open" || xml.name !== "f" || attribute(xml, "t") !== "shared") continue;
    const shared = numberOf(xml, "si") ?? -1;
    const start = reader.base + xml.start;
    skipTo(xml, depth);
    if (unshared.has(shared))
      line.formulas.set(column, { start, end: reader.base + xml.at, shared });
  }
}

/** What stands among the rows from there to there, as a text. */
function textOf({ reader: { rows } }: RowState, from = 0, to = 0): string {
  return rows.decode(rows.bytes.subarray(from, to));
}

/** Writes old and new cells of a row in the order of their columns and returns where the text goes on. */
function mergeCells(state: RowState, writes: readonly Write[], from: number): number {
  const { sink, line } = state;
  const { bytes } = state.reader.rows;
  const styles = stylesOf(state, writes);
  let copied = from;
  let turn = 0;
  const copyUpTo = (end: number): void => {
    putBytes(sink, bytes, copied, end);
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
  const { line, spelling, sink } = state;
  if (!write.origin.keeps) {
    putCell(sink, write, { row: line.row, style }, spelling);
    return;
  }
  const stays = line.formulas.has(write.column)
    ? unsharedCell(state, index, write.column)
    : textOf(state, line.starts[index], line.ends[index]);
  put(sink, resultXml(stays, write, style, spelling.prefix));
}

/** A cell that stays, its shared formula written out because the first cell of it is gone. */
function unsharedCell(state: RowState, index: number, column: number): string {
  const start = state.line.starts[index] ?? 0;
  const end = state.line.ends[index] ?? 0;
  const formula = state.line.formulas.get(column);
  const shared = formula && state.draft.content.source.shared.get(formula.shared);
  if (!formula || !shared) return textOf(state, start, end);
  const p = state.spelling.prefix;
  const own = cellText(expanded(shared, state.line.row, column));
  return `${textOf(state, start, formula.start)}<${p}f>${own}</${p}f>${textOf(state, formula.end, end)}`;
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
