import {
  cellAt,
  cellKey,
  type CellValue,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import type { Place } from "../../taskpane/host.ts";
import { type Bench, benchOver } from "../../taskpane/workbench/host.ts";
import type { Grid, GridBook, GridCell } from "../../taskpane/workbench/sheets.ts";

/** A grid of the workbench without a screen: it shows a book, and somebody types into it. */
export interface QuietGrid extends Grid {
  readonly shown: () => Snapshot;
  /** A cell is left otherwise; the bench is told, as the real grid does. */
  readonly type: (sheet: string, at: readonly [number, number], left: Partial<GridCell>) => void;
}

/** A bench over such a grid. */
export function quietBench(): { readonly bench: Bench; readonly grid: QuietGrid } {
  const grid = quietGrid((sheet, key) => {
    bench.touched(sheet, [key]);
  });
  const bench: Bench = benchOver(() => grid, "en");
  return { bench, grid };
}

function quietGrid(told: (sheet: string, key: number) => void): QuietGrid {
  let book: Snapshot | null = null;
  let selected: Place | null = null;
  const left = new Map<string, GridCell>();
  const shown = (): Snapshot => {
    if (book === null) throw new Error("nothing is shown");
    return book;
  };
  const cell = (name: string, row: number, column: number): GridCell =>
    left.get(`${name} ${cellKey(row, column)}`) ?? cellOf(shown(), name, cellKey(row, column));
  return {
    shown,
    cell,
    load({ snapshot }: GridBook) {
      book = snapshot;
      left.clear();
      return Promise.resolve();
    },
    settled: () => Promise.resolve(),
    select(place) {
      if (sheetNamed(shown(), place.sheet) !== null) selected = place;
    },
    selected: () => selected,
    has: () => false,
    focus: () => undefined,
    selectedArea: () => null,
    type(sheet, [row, column], change) {
      const key = cellKey(row, column);
      left.set(`${sheet} ${key}`, { ...cell(sheet, row, column), ...change });
      told(sheet, key);
    },
  };
}

function cellOf(book: Snapshot, name: string, key: number): GridCell {
  const sheet = sheetNamed(book, name);
  const { row, column } = cellAt(key);
  const value: CellValue = sheet === null ? null : valueAt(sheet, row, column);
  return {
    value,
    formula: sheet?.formulas.get(key) ?? null,
    format: book.formats[sheet?.formats[row]?.[column] ?? 0] ?? "General",
    spill: null,
  };
}
