import type { ColumnCells, Edit, Plan } from "./plan.ts";
import { sameFormula } from "./same-formula.ts";
import {
  type Area,
  cellKey,
  type CellValue,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "./snapshot.ts";
import { eachOf, finished, type Steps } from "./steps.ts";

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
  /** Filters that were widened, with the area they had and the one they were given. */
  readonly filters: readonly {
    readonly sheet: string;
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
export interface SheetMade {
  readonly name: string;
  readonly cells: ReadonlyMap<number, Written>;
}

/** What a cell was given: a formula, or a value. */
export interface Written {
  readonly value: CellValue;
  readonly formula: string | null;
}

/** A receipt of the same cells, as they stand in a workbook now: what taking the plan back would write over. */
export function standing(now: Snapshot, receipt: Receipt): Receipt {
  const cells = receipt.cells.map((block) => ({ ...block, before: beforeOf(now, block) }));
  return { ...receipt, cells };
}

/** The receipt of a plan that is about to be applied to a workbook. */
export function receiptOf(snapshot: Snapshot, plan: Plan): Receipt {
  return finished(receiptSteps(snapshot, plan));
}

/** The same in steps. */
export function* receiptSteps(snapshot: Snapshot, plan: Plan): Steps<Receipt> {
  const added = plan.edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
  const isOld = (sheet: string): boolean => !added.includes(sheet);
  const named = plan.edits.flatMap((edit) => {
    if (edit.kind !== "addName") return [];
    const there = snapshot.names.find(
      ({ name, sheet }) => sheet === null && name.toLowerCase() === edit.name.toLowerCase(),
    );
    return [{ edit, there }];
  });
  const made = yield* eachOf(added, (name) => ({ name, cells: cellsMade(plan, name) }));
  const written = plan.edits.flatMap(blocksOf).filter(({ sheet }) => isOld(sheet));
  const cells = yield* eachOf(written, (block) => ({
    ...block,
    before: beforeOf(snapshot, block),
  }));
  return {
    summary: plan.summary,
    sheets: added,
    made,
    names: named.flatMap(({ edit, there }) => (there === undefined ? [edit.name] : [])),
    renamed: named.flatMap(({ edit, there }) =>
      there === undefined || sameFormula(there.refersTo, edit.refersTo)
        ? []
        : [{ name: there.name, refersTo: there.refersTo }],
    ),
    cells,
    tables: plan.edits.flatMap((edit, at) => {
      if (edit.kind !== "growTable" || !isOld(edit.sheet)) return [];
      const grows = (one: Edit): boolean => one.kind === "growTable" && one.table === edit.table;
      if (plan.edits.slice(at + 1).some(grows)) return [];
      const { sheet, table, area: grown } = edit;
      const there = sheetNamed(snapshot, sheet)?.tables.find(({ name }) => name === table);
      return there === undefined ? [] : [{ sheet, table, area: there.area, grown }];
    }),
    filters: plan.edits.flatMap((edit) =>
      edit.kind === "growFilter" ? [{ sheet: edit.sheet, area: edit.from, grown: edit.area }] : [],
    ),
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
