import type { ColumnCells, Edit, Plan } from "./plan.ts";
import {
  type Area,
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

/** What an applied plan changed, and what was there before: enough to take it back. */
export interface Receipt {
  readonly summary: string;
  /** Cells of sheets that were there before the plan. */
  readonly cells: readonly CellsBefore[];
  /** Sheets the plan added. */
  readonly sheets: readonly string[];
  /** What the plan wrote into them. */
  readonly made: readonly SheetMade[];
  /** Names the plan added. */
  readonly names: readonly string[];
  /** Names that led nowhere and were given a new place, with what they said before. */
  readonly renamed: readonly { readonly name: string; readonly refersTo: string }[];
  /** Tables that grew, with the area they had and the one they were given. */
  readonly tables: readonly {
    readonly sheet: string;
    readonly table: string;
    readonly area: Area;
    readonly grown: Area;
  }[];
  /** Areas that got rules or choices on sheets that were there before. */
  readonly dressed: readonly { readonly sheet: string; readonly area: Area }[];
}

/** Cells of one column: what the plan wrote and what stood there. */
export interface CellsBefore {
  readonly sheet: string;
  readonly written: ColumnCells;
  /** The whole column is the plan's: what it looks like goes with it. */
  readonly added: boolean;
  /** In the order of the written rows: value, formula without "=" or null, number format code. */
  readonly before: readonly {
    readonly value: CellValue;
    readonly formula: string | null;
    readonly format: string;
  }[];
}

/** A sheet the plan added, and its cells by cellKey. */
interface SheetMade {
  readonly name: string;
  readonly cells: ReadonlyMap<number, Written>;
}

/** What a cell was given: a formula, or a value. */
interface Written {
  readonly value: CellValue;
  readonly formula: string | null;
}

/** The receipt of a plan that is about to be applied to a workbook. */
export function receiptOf(snapshot: Snapshot, plan: Plan): Receipt {
  const added = plan.edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
  const isOld = (sheet: string): boolean => !added.includes(sheet);
  const named = plan.edits.flatMap((edit) => {
    if (edit.kind !== "addName") return [];
    const there = snapshot.names.find(
      ({ name, sheet }) => sheet === null && name.toLowerCase() === edit.name.toLowerCase(),
    );
    return [{ edit, there }];
  });
  return {
    summary: plan.summary,
    sheets: added,
    made: added.map((name) => ({ name, cells: cellsMade(plan, name) })),
    names: named.flatMap(({ edit, there }) => (there === undefined ? [edit.name] : [])),
    renamed: named.flatMap(({ edit, there }) =>
      there === undefined || there.refersTo === edit.refersTo
        ? []
        : [{ name: there.name, refersTo: there.refersTo }],
    ),
    cells: plan.edits.flatMap((edit) =>
      blocksOf(edit)
        .filter(({ sheet }) => isOld(sheet))
        .map((block) => ({ ...block, before: beforeOf(snapshot, block) })),
    ),
    tables: plan.edits.flatMap((edit, at) => {
      if (edit.kind !== "growTable" || !isOld(edit.sheet)) return [];
      const grows = (one: Edit): boolean => one.kind === "growTable" && one.table === edit.table;
      if (plan.edits.slice(at + 1).some(grows)) return [];
      const { sheet, table, area: grown } = edit;
      const there = sheetNamed(snapshot, sheet)?.tables.find(({ name }) => name === table);
      return there === undefined ? [] : [{ sheet, table, area: there.area, grown }];
    }),
    dressed: plan.edits.flatMap((edit) =>
      (edit.kind === "addRule" || edit.kind === "addChoices") && isOld(edit.sheet)
        ? [{ sheet: edit.sheet, area: edit.area }]
        : [],
    ),
  };
}

interface Block {
  readonly sheet: string;
  readonly written: ColumnCells;
  readonly added: boolean;
}

/** The cells an edit writes, headings of new columns among them. */
function blocksOf(edit: Edit): Block[] {
  if (edit.kind === "fillCells") {
    return edit.blocks.map((written) => ({ sheet: edit.sheet, written, added: false }));
  }
  if (edit.kind !== "addColumn") return [];
  const { column } = edit.cells;
  const heading: ColumnCells = { column, rows: [edit.headerRow], values: [edit.title] };
  return [
    { sheet: edit.sheet, written: heading, added: true },
    { sheet: edit.sheet, written: edit.cells, added: true },
  ];
}

/** Everything a plan writes into a sheet it adds; later edits win. */
function cellsMade(plan: Plan, name: string): Map<number, Written> {
  const cells = new Map<number, Written>();
  for (const edit of plan.edits) {
    if (edit.kind === "addSheet" && edit.sheet === name) {
      for (const { row, column, value, formula } of edit.cells) {
        cells.set(cellKey(row, column), { value, formula: formulaAt(formula, row) });
      }
    }
    for (const { sheet, written } of blocksOf(edit)) {
      if (sheet !== name) continue;
      const { column, rows, values, formula } = written;
      rows.forEach((row, at) => {
        const value = values[at] ?? null;
        cells.set(cellKey(row, column), { value, formula: formulaAt(formula, row) });
      });
    }
  }
  return cells;
}

function formulaAt(formula: ColumnCells["formula"], row: number): string | null {
  return formula === undefined ? null : formula.text.replaceAll("{r}", String(row + 1));
}

function beforeOf(snapshot: Snapshot, { sheet: name, written }: Block): CellsBefore["before"] {
  const sheet = sheetNamed(snapshot, name);
  return written.rows.map((row) => ({
    value: sheet === null ? null : valueAt(sheet, row, written.column),
    formula: sheet?.formulas.get(cellKey(row, written.column)) ?? null,
    format: snapshot.formats[sheet?.formats[row]?.[written.column] ?? 0] ?? "General",
  }));
}

/** Why a receipt can no longer be taken back: one sentence a reason, none when it can. */
export function takeBackBars(now: Snapshot, receipt: Receipt): string[] {
  return [...new Set([...takeBackSteps(now, receipt)].flat())];
}

/** The same in steps, a block of cells each, for hosts that let others work in between. */
export function* takeBackSteps(now: Snapshot, receipt: Receipt): Generator<readonly string[]> {
  const last = lastWritten(receipt);
  for (const cells of receipt.cells) {
    for (let first = 0; first < cells.written.rows.length; first += STEP) {
      const found = changedCell(now, cells, { last, first });
      yield found;
      if (found.length > 0) break;
    }
  }
  for (const made of receipt.made) yield changedSheet(now, made);
  for (const grown of receipt.tables) yield changedTable(now, grown);
}

/** The last block that wrote a cell, by sheet and cellKey, where a plan writes one twice. */
type LastWritten = ReadonlyMap<string, ReadonlyMap<number, CellsBefore>>;

function lastWritten({ cells }: Receipt): LastWritten {
  const last = new Map<string, Map<number, CellsBefore>>();
  for (const block of cells) {
    const { sheet, written } = block;
    const there = last.get(sheet) ?? new Map<number, CellsBefore>();
    last.set(sheet, there);
    for (const row of written.rows) there.set(cellKey(row, written.column), block);
  }
  return last;
}

/** Rows looked at in one step. */
const STEP = 5000;

function changedCell(
  now: Snapshot,
  block: CellsBefore,
  { last, first }: { readonly last: LastWritten; readonly first: number },
): string[] {
  const { sheet: name, written } = block;
  const sheet = sheetNamed(now, name);
  if (sheet === null) return [`The sheet ${name} is gone.`];
  const { column, rows, values, formula } = written;
  const pieces = formula?.text.split("{r}");
  const changed = rows.slice(first, first + STEP).find((row, at) => {
    const key = cellKey(row, column);
    if (last.get(name)?.get(key) !== block) return false;
    const value = values[first + at] ?? null;
    const wrote = { value, formula: pieces?.join(String(row + 1)) ?? null };
    return !isAsWritten(sheet, key, wrote);
  });
  if (changed === undefined) return [];
  return [`${name}!${address(changed, column)} was changed since; it cannot be taken back.`];
}

/** A sheet of the plan's own goes with everything in it, so nothing may have been typed there. */
function changedSheet(now: Snapshot, { name, cells }: SheetMade): string[] {
  const sheet = sheetNamed(now, name);
  if (sheet === null) return [`The sheet ${name} is gone already.`];
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
    return [`${name}!${address(row, column)} was changed since; it cannot be taken back.`];
  }
  return [];
}

function changedTable(now: Snapshot, { sheet, table, grown }: Receipt["tables"][number]): string[] {
  const there = sheetNamed(now, sheet)?.tables.find(({ name }) => name === table);
  if (there !== undefined && areaText(there.area) === areaText(grown)) return [];
  return [`The table ${table} on ${sheet} was changed since; it cannot be taken back.`];
}

function isAsWritten(sheet: Sheet, key: number, wrote: Written): boolean {
  const formula = sheet.formulas.get(key) ?? null;
  if (wrote.formula !== null || formula !== null) return formula === wrote.formula;
  const { row, column } = cellAt(key);
  const found = valueAt(sheet, row, column);
  return shown(found) === shown(wrote.value);
}

/** A value for comparing: a blank cell and an empty text are the same, errors are told by their name. */
function shown(value: CellValue): string | number | boolean {
  return isCellError(value) ? `${value.error}!` : (value ?? "");
}
