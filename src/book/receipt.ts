import type { ColumnCells, Edit, Plan } from "./plan.ts";
import {
  type Area,
  address,
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
  /** Sheets and names the plan added. */
  readonly sheets: readonly string[];
  readonly names: readonly string[];
  /** Tables that grew, with the area they had. */
  readonly tables: readonly {
    readonly sheet: string;
    readonly table: string;
    readonly area: Area;
  }[];
  /** Areas that got rules or choices on sheets that were there before. */
  readonly dressed: readonly { readonly sheet: string; readonly area: Area }[];
}

/** Cells of one column: what the plan wrote and what stood there. */
export interface CellsBefore {
  readonly sheet: string;
  readonly written: ColumnCells;
  /** In the order of the written rows: value, formula without "=" or null, number format code. */
  readonly before: readonly {
    readonly value: CellValue;
    readonly formula: string | null;
    readonly format: string;
  }[];
}

/** The receipt of a plan that is about to be applied to a workbook. */
export function receiptOf(snapshot: Snapshot, plan: Plan): Receipt {
  const added = plan.edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
  const isOld = (sheet: string): boolean => !added.includes(sheet);
  return {
    summary: plan.summary,
    sheets: added,
    names: plan.edits.flatMap((edit) => (edit.kind === "addName" ? [edit.name] : [])),
    cells: plan.edits.flatMap((edit) =>
      blocksOf(edit)
        .filter(({ sheet }) => isOld(sheet))
        .map((block) => ({ ...block, before: beforeOf(snapshot, block) })),
    ),
    tables: plan.edits.flatMap((edit) => {
      if (edit.kind !== "growTable" || !isOld(edit.sheet)) return [];
      const table = sheetNamed(snapshot, edit.sheet)?.tables.find(
        ({ name }) => name === edit.table,
      );
      return table === undefined
        ? []
        : [{ sheet: edit.sheet, table: edit.table, area: table.area }];
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
}

/** The cells an edit writes, headings of new columns among them. */
function blocksOf(edit: Edit): Block[] {
  if (edit.kind === "fillCells") {
    return edit.blocks.map((written) => ({ sheet: edit.sheet, written }));
  }
  if (edit.kind !== "addColumn") return [];
  const { column } = edit.cells;
  const heading: ColumnCells = { column, rows: [edit.headerRow], values: [edit.title] };
  return [
    { sheet: edit.sheet, written: heading },
    { sheet: edit.sheet, written: edit.cells },
  ];
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
  const reasons = receipt.cells.flatMap(({ sheet: name, written }) => {
    const sheet = sheetNamed(now, name);
    if (sheet === null) return [`The sheet ${name} is gone.`];
    const changed = written.rows.findIndex((_, at) => !isAsWritten(sheet, written, at));
    if (changed < 0) return [];
    const cell = address(written.rows[changed] ?? 0, written.column);
    return [`${name}!${cell} was changed since; it cannot be taken back.`];
  });
  const gone = receipt.sheets.filter((name) => sheetNamed(now, name) === null);
  return [...new Set([...reasons, ...gone.map((name) => `The sheet ${name} is gone already.`)])];
}

function isAsWritten(sheet: Sheet, written: ColumnCells, at: number): boolean {
  const row = written.rows[at] ?? 0;
  const formula = sheet.formulas.get(cellKey(row, written.column)) ?? null;
  if (written.formula !== undefined) {
    return formula === written.formula.text.replaceAll("{r}", String(row + 1));
  }
  const value = written.values[at] ?? null;
  const found = valueAt(sheet, row, written.column);
  return formula === null && (isCellError(found) ? false : (found ?? "") === (value ?? ""));
}
