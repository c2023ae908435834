import { fingerprint } from "../../src/book/workbook/expect.ts";
import type { Expectation, Plan } from "../../src/book/workbook/plan.ts";
import type { CellsBefore, Receipt } from "../../src/book/workbook/receipt.ts";
import { address, type CellValue, isCellError } from "../../src/book/workbook/snapshot.ts";
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
  /** After the last request: what others changed, in words, and the cells of it. */
  readonly told: () => { readonly reasons: readonly string[]; readonly theirs: readonly Theirs[] };
}

/** A cell as others left it in the moment in which it was written over. */
export interface Theirs {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly value: CellValue;
  readonly formula: string | null;
}

/** Where a cell of others lies, in words. */
export function placeText({ sheet, row, column }: Theirs): string {
  return `${sheet}!${address(row, column)}`;
}

/** A column that tells rows apart, and what was found from the first of its rows on. */
interface KeyLooked {
  readonly sheet: string;
  readonly key: Key;
  readonly firstRow: number;
  readonly range: Excel.Range;
}

/** A witness of a plan that is about to be written; the receipt says what stood there when it was read. */
export function witnessOf(context: Context, edits: Plan["edits"], receipt: Receipt): Witness {
  const open = before(receipt);
  const looked: { readonly at: Stretch; readonly range: Excel.Range }[] = [];
  const keys = keysOf(edits, receipt);
  const keysLooked: KeyLooked[] = [];
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
        looked.push({ at, range: rangeOf(at).load("values,formulas") });
      }
    },
    rows() {
      for (const { sheet, key } of keys) {
        const [firstRow = 0] = key.rows;
        const rows = (key.rows.at(-1) ?? firstRow) - firstRow + 1;
        const range = rangeOf({ sheet, column: key.column, firstRow, rows });
        keysLooked.push({ sheet, key, firstRow, range: range.load("values,valueTypes") });
      }
    },
    told() {
      const was = before(receipt);
      const theirs = looked.flatMap(({ at, range }) => {
        return changedIn(was.get(placeOf(at.sheet, at.column)), at, range);
      });
      const moved = keysLooked.filter(
        ({ key, firstRow, range }) =>
          fingerprint(key.rows.map((row) => valueIn(range, row - firstRow))) !== key.fingerprint,
      );
      const reasons = [
        ...moved.map(({ sheet }) => `The rows of ${sheet} were`),
        ...theirs.slice(0, 1).map((one) => `${placeText(one)} was`),
      ];
      return { reasons: [...new Set(reasons)], theirs };
    },
  };
}

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
function keysOf(edits: Plan["edits"], { cells }: Receipt): { sheet: string; key: Key }[] {
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

function valueIn({ values, valueTypes }: Excel.Range, at: number): CellValue {
  return valueOf(values[at]?.[0], valueTypes[at]?.[0]);
}

function changedIn(
  was: ReadonlyMap<number, Before> | undefined,
  { sheet, column, firstRow }: Stretch,
  { values, formulas }: Excel.Range,
): Theirs[] {
  return values.flatMap((line, index): Theirs[] => {
    const row = firstRow + index;
    const value: unknown = line[0];
    const formula: unknown = formulas[index]?.[0];
    const isFormula = typeof formula === "string" && formula.startsWith("=") && formula !== value;
    const known = was?.get(row)?.value ?? "";
    if (!isFormula && value === (isCellError(known) ? known.error : known)) return [];
    const place = { sheet, row, column };
    return isFormula
      ? [{ ...place, value: null, formula: formula.slice(1) }]
      : [{ ...place, value: valueOf(value, undefined), formula: null }];
  });
}

/** A receipt by which the cells of others are given back as they left them. */
export function leftToThem(receipt: Receipt, theirs: readonly Theirs[]): Receipt {
  return theirs.reduce(left, receipt);
}

function left(receipt: Receipt, { sheet, row, column, value, formula }: Theirs): Receipt {
  const cells = receipt.cells.map((block): CellsBefore => {
    const at = block.written.rows.indexOf(row);
    if (block.sheet !== sheet || block.written.column !== column || at < 0) return block;
    const before = block.before.map((cell, index) =>
      index === at ? { ...cell, value, formula } : cell,
    );
    // A column of the plan's own is emptied, and this one is no longer its own alone.
    return { ...block, added: false, before };
  });
  return { ...receipt, cells };
}
