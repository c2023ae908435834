import type { CellsBefore, Receipt, SheetMade, Written } from "./receipt.ts";
import {
  address,
  areaText,
  cellAt,
  cellKey,
  type CellValue,
  isCellError,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "./snapshot.ts";
import { finished, type Steps } from "./steps.ts";

/** Why a receipt can no longer be taken back: one sentence a reason, none when it can. */
export function takeBackBars(now: Snapshot, receipt: Receipt): string[] {
  return finished(takeBackSteps(now, receipt));
}

/** The same in steps. */
export function* takeBackSteps(now: Snapshot, receipt: Receipt): Steps<string[]> {
  const bars = new Set<string>();
  const last = lastWritten(receipt);
  for (const cells of receipt.cells) {
    const later = writtenLater(cells, last);
    for (let first = 0; first < cells.written.rows.length; first += STEP) {
      yield;
      const changed = changedCell(now, cells, { later, first });
      if (changed === null) continue;
      bars.add(changed);
      break;
    }
  }
  for (const made of receipt.made) {
    yield;
    for (const reason of changedSheet(now, made)) bars.add(reason);
  }
  for (const grown of receipt.tables) {
    for (const reason of changedTable(now, grown)) bars.add(reason);
  }
  for (const { sheet, area, grown } of receipt.filters) {
    const filter = sheetNamed(now, sheet)?.filter ?? null;
    const known = [grown, area].map(areaText);
    if (filter === null || filter.active || !known.includes(areaText(filter.area))) {
      bars.add(`The filter on ${sheet} has changed since; it cannot be undone.`);
    }
  }
  return [...bars];
}

/** What of a receipt is still there to be taken back: sheets and names may be gone already. */
export function stillThere(now: Snapshot, receipt: Receipt): Receipt {
  const isNamed = (name: string): boolean =>
    now.names.some((one) => one.sheet === null && one.name === name);
  return {
    ...receipt,
    sheets: receipt.sheets.filter((name) => sheetNamed(now, name) !== null),
    names: receipt.names.filter(isNamed),
    renamed: receipt.renamed.filter(({ name }) => isNamed(name)),
  };
}

/** The blocks of a column in the order they were written, by sheet and column. */
type LastWritten = ReadonlyMap<string, readonly CellsBefore[]>;

function lastWritten({ cells }: Receipt): LastWritten {
  const blocks = new Map<string, CellsBefore[]>();
  for (const block of cells) {
    const there = blocks.get(columnKey(block));
    if (there === undefined) blocks.set(columnKey(block), [block]);
    else there.push(block);
  }
  return blocks;
}

function columnKey({ sheet, written }: CellsBefore): string {
  return `${written.column} ${sheet}`;
}

/** Rows that a later block of a plan wrote once more: only the last one counts. */
function writtenLater(block: CellsBefore, last: LastWritten): ReadonlySet<number> {
  const blocks = last.get(columnKey(block)) ?? [];
  const later = blocks.slice(blocks.indexOf(block) + 1);
  return new Set(later.flatMap(({ written }) => written.rows));
}

/** Rows looked at in one step. */
const STEP = 2000;

function changedCell(
  now: Snapshot,
  block: CellsBefore,
  { later, first }: { readonly later: ReadonlySet<number>; readonly first: number },
): string | null {
  const { sheet: name, written } = block;
  const sheet = sheetNamed(now, name);
  if (sheet === null) return `The sheet ${name} is gone.`;
  const { column, rows, values, formula } = written;
  const pieces = formula?.text.split("{r}");
  const changed = rows.slice(first, first + STEP).find((row, at) => {
    if (later.has(row)) return false;
    const value = values[first + at] ?? null;
    const wrote = { value, formula: pieces?.join(String(row + 1)) ?? null };
    const key = cellKey(row, column);
    // A cell that is as it was before has been taken back already, by an attempt that ended half-way.
    const was = block.before[first + at];
    return !isAsWritten(sheet, key, wrote) && !(was !== undefined && isAsWritten(sheet, key, was));
  });
  if (changed === undefined) return null;
  return `${name}!${address(changed, column)} has changed since; it cannot be undone.`;
}

/** A sheet of the plan's own goes with everything in it, so nothing may have been typed there. */
function changedSheet(now: Snapshot, { name, cells }: SheetMade): string[] {
  const sheet = sheetNamed(now, name);
  // What is gone already need not be taken back.
  if (sheet === null) return [];
  const keys = new Set([...cells.keys(), ...sheet.formulas.keys()]);
  sheet.values.forEach((line, row) => {
    line.forEach((value, column) => {
      if (value !== null) keys.add(cellKey(row, column));
    });
  });
  for (const key of keys) {
    const wrote = cells.get(key) ?? { value: null, formula: null };
    if (isAsWritten(sheet, key, wrote)) continue;
    const { row, column } = cellAt(key);
    return [`${name}!${address(row, column)} has changed since; it cannot be undone.`];
  }
  return [];
}

function changedTable(now: Snapshot, receipt: Receipt["tables"][number]): string[] {
  const { sheet, table, area, grown } = receipt;
  const there = sheetNamed(now, sheet)?.tables.find(({ name }) => name === table);
  const known = [grown, area].map(areaText);
  if (there !== undefined && known.includes(areaText(there.area))) return [];
  return [`The table ${table} on ${sheet} has changed since; it cannot be undone.`];
}

function isAsWritten(sheet: Sheet, key: number, wrote: Written): boolean {
  const formula = sheet.formulas.get(key) ?? null;
  if (wrote.formula !== null || formula !== null) return formula === wrote.formula;
  const { row, column } = cellAt(key);
  const found = valueAt(sheet, row, column);
  return comparable(found) === comparable(wrote.value);
}

/** A value for comparing: a blank cell and an empty text are the same, errors are compared by their name. */
function comparable(value: CellValue): string | number | boolean {
  return isCellError(value) ? `${value.error}!` : (value ?? "");
}
