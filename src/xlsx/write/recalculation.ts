import { cellKey, columnOf, sameValue, sheetInFormula } from "../../book/workbook/snapshot.ts";
import type { Change } from "./change.ts";
import type { SheetDraft } from "./sheet-draft.ts";

/**
 * Formulas of other people keep the results their file has. Where a plan changes a cell that one of
 * them may read, the spreadsheet program is asked to calculate on opening; otherwise it is not,
 * since that makes it ask about saving and needs the add-in for our own formulas. In doubt (names,
 * tables, references made of text) a formula counts as reading.
 */
export function needsCalculation(change: Change): boolean {
  const touched = new Map<string, Set<number>>();
  for (const [key, sheet] of change.sheets) {
    const columns = changedColumns(sheet);
    if (columns.size > 0) touched.set(key, columns);
  }
  if (touched.size === 0) return false;
  const words = wordsFor(change, touched);
  return change.book.sheets.some(({ sheet }) => {
    const key = sheet.name.toLowerCase();
    const draft = change.sheets.get(key);
    for (const [cell, formula] of sheet.formulas) {
      if (reads(formula, key, touched, words) && !isWritten(draft, cell)) return true;
    }
    return false;
  });
}

function changedColumns(sheet: SheetDraft): Set<number> {
  const columns = new Set<number>();
  if (sheet.before === null) return columns;
  sheet.writes.forEach((line, row) => {
    const before = sheet.content.values[row];
    for (const { column, value } of line) {
      if (!sameValue(before?.[column] ?? null, value)) columns.add(column);
    }
  });
  return columns;
}

function isWritten(draft: SheetDraft | undefined, cell: number): boolean {
  const row = Math.floor(cell / cellKey(1, 0));
  const column = cell % cellKey(1, 0);
  return draft?.writes[row]?.some((write) => write.column === column) ?? false;
}

/** Words by which a formula may reach a touched sheet without naming its cells. */
function wordsFor(change: Change, touched: ReadonlyMap<string, unknown>): Set<string> {
  const words = new Set(["indirect", "offset"]);
  const { names, sheets } = change.book.snapshot;
  for (const sheet of sheets) {
    if (!touched.has(sheet.name.toLowerCase())) continue;
    for (const table of sheet.tables) words.add(table.name.toLowerCase());
    const named = sheetInFormula(sheet.name).toLowerCase();
    for (const { name, refersTo } of names) {
      if (refersTo.toLowerCase().includes(named) || /[[(]/.test(refersTo))
        words.add(name.toLowerCase());
    }
  }
  return words;
}

/** Literals and cells of other files first: nothing of theirs is ours. */
const PIECE =
  /"[^"]*"|\[\d+\][\w.]*!(?:\$?[A-Za-z]{1,3}\$?\d+:?)+|(\[)|(?:('(?:[^']|'')*'|[A-Za-z_][\w.]*)!)?(?:\$?([A-Za-z]{1,3})\$?\d+(?::\$?([A-Za-z]{1,3})\$?\d+)?|\$?([A-Za-z]{1,3}):\$?([A-Za-z]{1,3})|(\$?\d+:\$?\d+))(?![\w.(])|([A-Za-z_\\][\w.\\]*)/g;

type Touched = ReadonlyMap<string, ReadonlySet<number>>;

function reads(
  formula: string,
  own: string,
  touched: Touched,
  words: ReadonlySet<string>,
): boolean {
  for (const match of formula.matchAll(PIECE)) {
    const [, bracket, sheet, , , , , , word] = match;
    // Brackets are columns of a table; a reference across several sheets counts as reading all of them.
    if (bracket !== undefined && touched.has(own)) return true;
    if (word !== undefined && words.has(word.toLowerCase())) return true;
    if (sheet?.includes(":") || (sheet && formula[match.index - 1] === ":")) return true;
    const columns = touched.get(sheet === undefined ? own : sheetKey(sheet));
    if (columns && meets(columns, match)) return true;
  }
  return false;
}

function sheetKey(sheet: string): string {
  const name = sheet.startsWith("'") ? sheet.slice(1, -1).replaceAll("''", "'") : sheet;
  return name.toLowerCase();
}

function meets(columns: ReadonlySet<number>, match: RegExpMatchArray): boolean {
  const [, , , left, right, first, last, rows] = match;
  if (rows !== undefined) return true;
  const from = left ?? first;
  if (from === undefined) return false;
  const to = columnOf(right ?? last ?? from);
  for (const column of columns) if (column >= columnOf(from) && column <= to) return true;
  return false;
}
