import type { Area, CellValue, Snapshot } from "../../src/book/workbook/snapshot.ts";
import type { View } from "../../src/xlsx/index.ts";
import type { Place } from "../host.ts";

/** A cell as it stands in the grid. */
export interface GridCell {
  readonly value: CellValue;
  /** Without "="; null for a plain value. */
  readonly formula: string | null;
  /** Number format code. */
  readonly format: string;
  /** How many cells the formula fills, when more than its own. */
  readonly spill: { readonly rows: number; readonly columns: number } | null;
}

/** A book for the grid: what it holds and what it looks like. */
export interface GridBook {
  readonly snapshot: Snapshot;
  readonly view: View;
}

/** What the grid tells while somebody works in it. */
export interface GridEvents {
  /** Cells of a sheet may hold something else now; keys are cellKeys. */
  readonly changed: (sheet: string, keys: readonly number[]) => void;
  /** Something was not done, and why. */
  readonly refused: (sentence: string) => void;
  /** Another cell is selected; `fault` is the sentence of its error, if one is known. */
  readonly selected: (place: Place, fault: string | null) => void;
}

/** A grid that shows a workbook and lets people type: all the workbench knows of the grid library. */
export interface Grid {
  /** Shows a book in place of the one before; the sheet and cell at hand stay where they can. */
  load(book: GridBook): Promise<void>;
  cell(sheet: string, row: number, column: number): GridCell;
  /** Ends typing that is going on and waits until everything is calculated. */
  settled(): Promise<void>;
  select(place: Place): void;
  selected(): Place | null;
  /** Whether an element belongs to the grid, wherever it lies on the page. */
  has(element: Element | null): boolean;
  /** Puts the keyboard into the cell at hand. */
  focus(): void;
  selectedArea(): { readonly sheet: string; readonly area: Area } | null;
}
