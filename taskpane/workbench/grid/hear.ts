import type { ICellData, IRange } from "@univerjs/core";
import { cellAt, cellKey, isCellError } from "../../../src/book/workbook/snapshot.ts";
import { refusal } from "./allowed.ts";
import { keysOf, matrixKeys } from "./cells.ts";
import { type Held, idOf, nameOf, spillsOf } from "./held.ts";
import { cellIn, selected } from "./look.ts";
import { calledBy, dateColumns } from "./typed.ts";

const SET_VALUES = "sheet.mutation.set-range-values";
const SET_FORMATS = "sheet.mutation.set.numfmt";
const SET_SPILLS = "formula.mutation.set-array-formula-data";
const SELECTED = "sheet.operation.set-selections";

/** Hears what somebody does in the grid, and refuses what must not be done. */
export function listen(held: Held): void {
  const { api, events } = held;
  api.addEvent(api.Event.BeforeCommandExecute, (event) => {
    const reason = held.leaving
      ? leaving(event.id)
      : held.quiet
        ? null
        : refusal(event.id, shutSheet(held));
    if (reason === null) return;
    event.cancel = true;
    events.refused(reason);
  });
  api.addEvent(api.Event.CommandExecuted, ({ id, params }) => {
    if (held.quiet) return;
    if (id === SET_VALUES) valuesSet(held, params as ValuesSet);
    else if (id === SET_FORMATS) formatsSet(held, params as FormatsSet);
    else if (id === SET_SPILLS) spillsSet(held);
    else if (id === SELECTED) selectionSet(held);
  });
}

/** What is typed into a book that is about to go would be lost without a word. */
function leaving(id: string): string | null {
  return id.includes(".command.") ? "One moment: the workbook is being redrawn." : null;
}

/** The sheet at hand when it is protected. */
function shutSheet({ api, shut }: Held): string | null {
  if (shut.size === 0) return null;
  const name = api.getActiveWorkbook()?.getActiveSheet().getSheetName() ?? "";
  return shut.has(name) ? name : null;
}

/** What the library says of cells it set. */
interface ValuesSet {
  readonly unitId: string;
  readonly subUnitId: string;
  readonly cellValue?: Readonly<Record<number, Readonly<Record<number, ICellData>>>>;
}

interface FormatsSet {
  readonly unitId: string;
  readonly subUnitId: string;
  readonly values: Readonly<Record<string, { readonly ranges: readonly IRange[] }>>;
}

function valuesSet(held: Held, { unitId, subUnitId, cellValue }: ValuesSet): void {
  if (unitId !== held.unit) return;
  const keys = matrixKeys(cellValue ?? {});
  for (const key of keys) showDates(held, subUnitId, key);
  held.events.changed(nameOf(held, subUnitId), keys);
}

const DATE_FORMAT = "yyyy-mm-dd";

/** A formula of ours that gives dates shows dates, where its cells had no number format yet. */
function showDates(held: Held, id: string, key: number): void {
  const { row, column } = cellAt(key);
  const sheet = nameOf(held, id);
  const { formula, spill } = cellIn(held, sheet, row, column);
  const called = formula === null ? null : calledBy(formula, held.functions);
  if (called === null) return;
  const cellValue: Record<number, Record<number, object>> = {};
  let found = 0;
  for (const right of dateColumns(called)) {
    for (let down = 0; down < (spill?.rows ?? 1); down += 1) {
      const at = { row: row + down, column: column + right };
      if (cellIn(held, sheet, at.row, at.column).format !== "General") continue;
      (cellValue[at.row] ??= {})[at.column] = { s: { n: { pattern: DATE_FORMAT } } };
      found += 1;
    }
  }
  if (found === 0) return;
  // A change of looks: the library leaves formulas alone then.
  const trigger = "sheet.command.set-style";
  const params = { unitId: held.unit, subUnitId: id, cellValue, trigger };
  void held.api.executeCommand(SET_VALUES, params);
}

/** Tells which cell is at hand, with the sentence of its error. */
function selectionSet(held: Held): void {
  const place = selected(held)?.place;
  if (!place) return;
  const key = `${idOf(held, place.sheet)} ${String(place.row)} ${String(place.column)}`;
  const { value } = cellIn(held, place.sheet, place.row, place.column);
  const fault = isCellError(value) ? (held.faults.get(key) ?? null) : null;
  held.events.selected(place, fault);
}

function formatsSet(held: Held, { unitId, subUnitId, values }: FormatsSet): void {
  if (unitId !== held.unit) return;
  const keys = Object.values(values).flatMap(({ ranges }) => ranges.flatMap(keysIn));
  held.events.changed(nameOf(held, subUnitId), keys);
}

/** Formulas fill other cells than before: those they left and those they reached have changed. */
function spillsSet(held: Held): void {
  const now = spillsOf(held);
  for (const id of new Set([...now.keys(), ...held.filled.keys()])) {
    const areas = [...(held.filled.get(id) ?? []), ...(now.get(id) ?? [])];
    for (const { startRow, startColumn } of now.get(id) ?? []) {
      showDates(held, id, cellKey(startRow, startColumn));
    }
    held.events.changed(nameOf(held, id), areas.flatMap(keysIn));
  }
  held.filled.clear();
  for (const [id, areas] of now) held.filled.set(id, areas);
}

function keysIn({ startRow, endRow, startColumn, endColumn }: IRange): number[] {
  return keysOf({
    firstRow: startRow,
    lastRow: endRow,
    firstColumn: startColumn,
    lastColumn: endColumn,
  });
}
