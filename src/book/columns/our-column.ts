import type { Computed } from "../answers/titles.ts";
import type { ColumnCells, Formula } from "../workbook/plan.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import type { Facts } from "./facts.ts";
import type { JudgedRegister } from "./judge.ts";

/** How computed columns are written: native formulas, our functions, or bare values. */
export type Mode = "portable" | "live" | "values";

/** One column of ours, complete: where, what, how it looks. values[i] belongs to register.rows[i]. */
export interface OurColumn {
  readonly title: string;
  readonly column: number;
  /** Already in the register from an earlier run. */
  readonly there: boolean;
  readonly values: readonly CellValue[];
  readonly formula: Formula | null;
  readonly format: string;
  readonly width: number;
  /** Rows that are ours to write; all where it is absent. */
  readonly only?: ReadonlySet<number>;
  /** Set for the computed columns; the state column carries the rules. */
  readonly computed: Computed | null;
}

/** Cells of a column as a plan writes them. */
export function cellsOf(
  { column, formula, format }: OurColumn,
  rows: readonly number[],
  values: readonly CellValue[],
): ColumnCells {
  return { column, rows, values, format, ...(formula === null ? {} : { formula }) };
}

/** A column of dates that is no computed one. */
export const DATES = { format: "yyyy-mm-dd", width: 12, computed: null } as const;

/** What the columns of a register are made of. */
export interface Context {
  readonly judged: JudgedRegister;
  readonly places: Places;
  readonly mode: Mode;
}

/** Hands out columns, one a title: the one that already carries it, or the next free one. */
export interface Places {
  at(title: string): { readonly column: number; readonly there: boolean };
}

/** Places from the first free column on. */
export function placesOf(facts: Facts): Places {
  let next = facts.firstFree;
  const given = new Map<string, { readonly column: number; readonly there: boolean }>();
  return {
    at(title) {
      const before = given.get(title);
      if (before) return before;
      const found = facts.columnTitled(title);
      const place =
        found === null ? { column: next, there: false } : { column: found, there: true };
      if (!place.there) next += 1;
      given.set(title, place);
      return place;
    },
  };
}
