import { fingerprint } from "../../src/book/workbook/expect.ts";
import type { Expectation, Plan } from "../../src/book/workbook/plan.ts";
import type { CellsBefore, Receipt } from "../../src/book/workbook/receipt.ts";
import { address, isCellError } from "../../src/book/workbook/snapshot.ts";
import { valueOf } from "./read-cells.ts";

type Context = Excel.RequestContext;
type Key = NonNullable<Expectation["key"]>;
type Before = CellsBefore["before"][number];

/** Rows of a column that follow one another. */
interface Stretch {
  readonly sheet: string;
  readonly column: number;
  readonly firstRow: number;
  readonly rows: number;
}

/**
 * Looks at cells in the very request that writes over them: between reading a workbook and writing into it
 * somebody else may type into a shared one, and Excel locks nothing. Cells that held a formula are not looked
 * at; their answers would be as large as all that is written.
 */
export interface Witness {
  /** To be called before cells are written. */
  readonly over: (stretch: Stretch) => void;
  /** Looks whether rows are where they were: with the first and with the last request. */
  readonly rows: () => void;
  /** After the last request: what was changed by others, and the receipt that leaves it to them. */
  readonly told: (receipt: Receipt) => {
    readonly reasons: readonly string[];
    readonly receipt: Receipt;
  };
}

/** A witness of a plan that is about to be written. */
export function witnessOf(context: Context, plan: Plan, receipt: Receipt): Witness {
  const open = before(receipt);
  const looked: { readonly at: Stretch; readonly range: Excel.Range }[] = [];
  const keys = keysOf(plan, receipt);
  const keysLooked: {
    readonly sheet: string;
    readonly key: Key;
    readonly ranges: Excel.Range[];
  }[] = [];
  const rangeOf = ({ sheet, column, firstRow, rows }: Stretch): Excel.Range =>
    context.workbook.worksheets.getItem(sheet).getRangeByIndexes(firstRow, column, rows, 1);
  return {
    over({ sheet, column, firstRow, rows }) {
      const cells = open.get(placeOf(sheet, column));
      if (cells === undefined) return;
      const all = Array.from({ length: rows }, (_, at) => firstRow + at);
      const plain = all.filter((row) => cells.get(row)?.formula === null);
      // What the plan writes a second time holds its own by then.
      for (const row of all) cells.delete(row);
      for (const at of stretches(sheet, column, plain)) {
        looked.push({ at, range: rangeOf(at).load("formulas") });
      }
    },
    rows() {
      for (const { sheet, key } of keys) {
        const ranges = stretches(sheet, key.column, key.rows).map((at) =>
          rangeOf(at).load("values,valueTypes"),
        );
        keysLooked.push({ sheet, key, ranges });
      }
    },
    told(known) {
      const changed = looked.flatMap(({ at, range }) => changedIn(known, at, range));
      const moved = keysLooked.filter(
        ({ key, ranges }) => fingerprint(ranges.flatMap(valuesOf)) !== key.fingerprint,
      );
      const reasons = [
        ...moved.map(({ sheet }) => `The rows of ${sheet} were`),
        ...changed.slice(0, 1).map(({ place }) => `${place} was`),
      ];
      const left = changed.reduce((done, { leave }) => leave(done), known);
      return { reasons: [...new Set(reasons)], receipt: left };
    },
  };
}

/** A witness that looks at nothing. */
export const NO_WITNESS: Pick<Witness, "over"> = { over: () => undefined };

function placeOf(sheet: string, column: number): string {
  return `${column} ${sheet}`;
}

/** What stood in the cells that a plan writes, by column and row. */
function before({ cells }: Receipt): Map<string, Map<number, Before>> {
  const found = new Map<string, Map<number, Before>>();
  for (const { sheet, written, before: was } of cells) {
    const place = placeOf(sheet, written.column);
    const rows = found.get(place) ?? new Map<number, Before>();
    found.set(place, rows);
    written.rows.forEach((row, at) => {
      const cell = was[at];
      if (cell !== undefined) rows.set(row, cell);
    });
  }
  return found;
}

/** Columns that tell rows apart, but for those the plan itself writes. */
function keysOf({ edits }: Plan, { cells }: Receipt): { sheet: string; key: Key }[] {
  const written = new Set(cells.map(({ sheet, written: { column } }) => placeOf(sheet, column)));
  const keys = new Map<Key, string>();
  for (const edit of edits) {
    const key = "expects" in edit ? edit.expects.key : undefined;
    if (key !== undefined && "sheet" in edit && !written.has(placeOf(edit.sheet, key.column))) {
      keys.set(key, edit.sheet);
    }
  }
  return [...keys].map(([key, sheet]) => ({ key, sheet }));
}

function stretches(sheet: string, column: number, rows: readonly number[]): Stretch[] {
  const found: { sheet: string; column: number; firstRow: number; rows: number }[] = [];
  for (const row of rows) {
    const last = found.at(-1);
    if (last !== undefined && last.firstRow + last.rows === row) last.rows += 1;
    else found.push({ sheet, column, firstRow: row, rows: 1 });
  }
  return found;
}

function valuesOf({ values, valueTypes }: Excel.Range) {
  return values.map((line, row) => valueOf(line[0], valueTypes[row]?.[0]));
}

interface Changed {
  readonly place: string;
  /** A receipt by which the cell is given back as others left it. */
  readonly leave: (receipt: Receipt) => Receipt;
}

function changedIn({ cells }: Receipt, at: Stretch, { formulas }: Excel.Range): Changed[] {
  const known = before({ cells } as Receipt).get(placeOf(at.sheet, at.column));
  return formulas.flatMap((line, index): Changed[] => {
    const row = at.firstRow + index;
    const found: unknown = line[0];
    const value = known?.get(row)?.value ?? "";
    if (found === (isCellError(value) ? value.error : value)) return [];
    const place = `${at.sheet}!${address(row, at.column)}`;
    return [{ place, leave: (receipt) => left(receipt, at, { row, found }) }];
  });
}

function left(receipt: Receipt, { sheet, column }: Stretch, now: { row: number; found: unknown }) {
  const { row, found } = now;
  const isFormula = typeof found === "string" && found.startsWith("=");
  const was = isFormula
    ? { value: null, formula: found.slice(1) }
    : { value: valueOf(found, undefined), formula: null };
  const cells = receipt.cells.map((block): CellsBefore => {
    const at = block.written.rows.indexOf(row);
    if (block.sheet !== sheet || block.written.column !== column || at < 0) return block;
    const before = block.before.map((cell, index) => (index === at ? { ...cell, ...was } : cell));
    // A column of the plan's own is emptied, and this one is no longer its own alone.
    return { ...block, added: false, before };
  });
  return { ...receipt, cells };
}
