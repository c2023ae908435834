import { quoted } from "../workbook/cells.ts";
import { type CellValue, isCellError } from "../workbook/snapshot.ts";

/**
 * What is heard from a cell. "meant": it is what it must be, a blank included. "text": it is text where a
 * number or a date must be, and its meaning is certain. "doubtful": it cannot be read; `hints` are numbers
 * it may mean.
 */
export type Heard<T> =
  | { readonly as: "meant"; readonly value: T }
  | { readonly as: "text"; readonly value: T }
  | { readonly as: "doubtful"; readonly hints: readonly number[] };

/** A cell that is not what it must be, and what is known besides. */
export interface DoubtfulCell<T> {
  readonly cell: CellValue;
  readonly hints: readonly number[];
  /** What the readable cells of the same column say in other rows. */
  readonly others: readonly T[];
}

/** A cell as a sentence shows it. */
export function shownCell(value: CellValue | undefined): string {
  if (value === undefined || value === null) return "A blank";
  if (isCellError(value)) return value.error;
  return typeof value === "string" ? quoted(value) : String(value).toUpperCase();
}

/** The least of what a cell may mean, of the other rows and of what is usual. */
export function least(usual: number): (doubt: DoubtfulCell<number | null>) => number {
  return ({ hints, others }) => Math.min(usual, ...hints, ...others.map((one) => one ?? usual));
}

/** The most of what a cell may mean, of the other rows and of what is usual. */
export function most(usual: number): (doubt: DoubtfulCell<number>) => number {
  return ({ hints, others }) => Math.max(usual, ...hints, ...others);
}
