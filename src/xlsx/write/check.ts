import { address, cellKey, sameValue } from "../../book/workbook/snapshot.ts";
import { type Cell, type CellSource, formulaOf, readRows } from "../read/cells.ts";
import { type CutSheet, cutSheet } from "../read/cut-sheet.ts";
import type { Change } from "./change.ts";
import { sameBytes } from "../file/codec.ts";
import { WorkbookError } from "../file/errors.ts";
import { LIMITS } from "../file/limits.ts";
import { formulaAt, shownFormula } from "../read/formulas.ts";
import { namedIn, typeIn, TYPES } from "../package/content-types.ts";
import { openPackage, type Package, partKey, readPart } from "../package/package.ts";
import type { SheetDraft, Write } from "./sheet-draft.ts";
import { NO_STRINGS, readStrings, type Strings } from "../read/strings.ts";
import { next, readXml } from "../xml/xml.ts";

/**
 * Reads a file just written and compares it with what it was made from: every part the plan does not
 * touch has the same bytes, every part it touches is well formed, every cell of a touched sheet holds
 * what it held before or what the plan put there.
 */
export function checkSaved(bytes: Uint8Array, change: Change): void {
  const { codec, limits } = change.draft.file;
  // Comparing takes far less memory than reading did.
  const total = Math.max(limits.total, LIMITS.total);
  const file = openPackage(bytes, codec, { ...limits, total });
  checkUntouched(file, change);
  checkNew(file, change);
  const strings = stringsOf(file, change);
  const sheets = new Map([...change.sheets.values()].map((sheet) => [partKey(sheet.path), sheet]));
  for (const [key, { path }] of change.draft.changed) {
    const sheet = sheets.get(key);
    if (sheet === undefined) for (const xml = readXml(readPart(file, path), path); next(xml););
    else {
      cutSheet(file, path, (cut) => {
        checkSheet(cut, sheet, change, strings);
      });
    }
  }
}

function checkUntouched(file: Package, change: Change): void {
  const { changed, removed, file: before } = change.draft;
  let expected = 0;
  for (const [key, entry] of before.byKey) {
    if (removed.has(key)) continue;
    expected += 1;
    const kept = file.byKey.get(key);
    if (kept && changed.has(key)) continue;
    const same =
      kept?.crc === entry.crc && kept.size === entry.size && sameBytes(kept.packed, entry.packed);
    if (!same) throw failed(entry.name, "would have changed");
  }
  for (const key of changed.keys()) if (!before.byKey.has(key)) expected += 1;
  if (expected !== file.byKey.size) throw failed("the file", "would have other parts");
}

/** Each new part is named once among the types, or no other program could open the file. */
function checkNew(file: Package, { draft }: Change): void {
  const added = [...draft.changed].filter(([key]) => !draft.file.byKey.has(key));
  if (added.length === 0) return;
  const types = readPart(file, TYPES);
  const named = namedIn(types);
  for (const [key, { path }] of added) {
    const times = named.filter((one) => one === key).length;
    if (times > 1 || typeIn(types, path) === null) throw failed(path, "would not have one type");
  }
}

function stringsOf(file: Package, change: Change): Strings {
  const path = change.book.relations.find(({ type }) => type === "sharedStrings")?.target;
  if (!path || !file.byKey.has(partKey(path))) return NO_STRINGS;
  return readStrings(readPart(file, path), path);
}

function checkSheet(cut: CutSheet, sheet: SheetDraft, change: Change, strings: Strings): void {
  for (const xml = readXml(cut.text, sheet.path); next(xml););
  const { dateSystem } = change.book.snapshot;
  const source: CellSource = { strings, dateSystem, shared: new Map(), blocks: [] };
  const tally: Tally = {
    line: [],
    turn: 0,
    written: 0,
    formulas: 0,
    filled: 0,
    masters: new Map(),
  };
  readRows(cut.rows, source, {
    row: (row) => {
      tally.line = sheet.writes[row] ?? [];
      tally.turn = 0;
    },
    cell: (cell) => {
      checkCell(cell, sheet, tally);
    },
  });
  checkTally(sheet, tally);
}

interface Tally {
  line: readonly Write[];
  turn: number;
  written: number;
  formulas: number;
  filled: number;
  /** Shared formulas found to be the written one, with what wrote them: compared once, not a million times. */
  readonly masters: Map<Cell["master"], Write["origin"]>;
}

function checkCell(cell: Cell, sheet: SheetDraft, tally: Tally): void {
  let write = tally.line[tally.turn];
  while (write && write.column < cell.column) write = tally.line[(tally.turn += 1)];
  if (write?.column === cell.column) {
    const held = write.origin.keeps ? keeps(cell, write, sheet) : holds(cell, write, tally);
    if (!held) throw changed(sheet, cell);
    tally.written += 1;
    return;
  }
  checkKept(cell, sheet, tally);
}

function holds(cell: Cell, { value, origin }: Write, tally: Tally): boolean {
  const { formula } = origin;
  if (!sameValue(cell.value, value) || cell.array !== (formula?.live ?? false)) return false;
  if (cell.master && origin.shared !== null && formula) {
    // The first cell's formula was found to be the column's for all its rows: this one shares it.
    if (cell.master.column !== cell.column) return false;
    if (tally.masters.get(cell.master) === origin) return true;
    tally.masters.set(cell.master, origin);
    return cell.master.text === formulaAt(formula.stored, cell.master.row);
  }
  return formulaOf(cell) === (formula ? formulaAt(formula.stored, cell.row) : null);
}

/** A cell that keeps its formula shows what was written and calculates what it did. */
function keeps(cell: Cell, { value }: Write, sheet: SheetDraft): boolean {
  const stored = formulaOf(cell);
  const formula = sheet.content.formulas.get(cellKey(cell.row, cell.column)) ?? null;
  return sameValue(cell.value, value) && (stored && shownFormula(stored)) === formula;
}

function checkKept(cell: Cell, sheet: SheetDraft, tally: Tally): void {
  const before = sheet.content.values[cell.row]?.[cell.column] ?? null;
  if (!sameValue(cell.value, before)) throw changed(sheet, cell);
  if (before !== null) tally.filled += 1;
  const { formulas } = sheet.content;
  const key = cellKey(cell.row, cell.column);
  if (cell.master === null || !formulas.shares(key, cell.master)) {
    const stored = formulaOf(cell);
    if (stored === null) return;
    if (shownFormula(stored) !== formulas.get(key)) throw changed(sheet, cell);
  }
  tally.formulas += 1;
}

/** No cell may be missing either: those that were there, and those the plan fills. */
function checkTally(sheet: SheetDraft, tally: Tally): void {
  const written = writesIn(sheet);
  let lostFormulas = 0;
  let lostValues = 0;
  const { formulas, values } = sheet.content;
  sheet.writes.forEach((line, row) => {
    for (const { column } of line) {
      if (formulas.size > 0 && formulas.has(cellKey(row, column))) lostFormulas += 1;
      if ((values[row]?.[column] ?? null) !== null) lostValues += 1;
    }
  });
  let filled = 0;
  for (const line of values) for (const value of line) if (value !== null) filled += 1;
  const complete =
    tally.written >= written &&
    tally.formulas === formulas.size - lostFormulas &&
    tally.filled === filled - lostValues;
  if (!complete) throw failed(sheet.name, "would have lost cells");
}

/** How many written cells must be found. */
function writesIn({ writes }: SheetDraft): number {
  let count = 0;
  writes.forEach((line) => {
    for (const { value, origin } of line) {
      if (value !== null || origin.formula || origin.keeps) count += 1;
    }
  });
  return count;
}

function changed(sheet: SheetDraft, cell: Cell): WorkbookError {
  return failed(`${sheet.name}!${address(cell.row, cell.column)}`, "would not hold what it must");
}

function failed(what: string, why: string): WorkbookError {
  return new WorkbookError(
    `The workbook was not saved because ${what} ${why}; the file is as it was: please report this.`,
  );
}
