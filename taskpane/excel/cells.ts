import type { ColumnCells, Formula } from "../../src/book/plan.ts";
import type { CellValue } from "../../src/book/snapshot.ts";
import { isCellError } from "../../src/book/snapshot.ts";
import { MOST_CELLS } from "./area.ts";

/** What Excel takes for a cell. */
export type Put = string | number | boolean;

/**
 * A value as Excel must be handed it so that it stays what it is: Excel reads a text as if somebody typed
 * it, and would make a number of 004711, a date of 1-2 and a formula of =x. An apostrophe keeps it text.
 */
export function putOf(value: CellValue): Put {
  if (value === null) return "";
  if (isCellError(value)) return value.error;
  if (typeof value !== "string") return value;
  return READ_OTHERWISE.test(value) ? `'${value}` : value;
}

/** Texts that Excel would take for something else: any digit, a sign, a truth value, a month's name. */
const READ_OTHERWISE =
  /^['=+\-@#]|[0-9]|^\s*(?:true|false)\s*$|^\s*(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)/i;

/** A formula of a row as Excel takes it; our functions are called by their own names there. */
export function formulaOf({ text }: Formula, row: number): string {
  return `=${text.replaceAll("{r}", String(row + 1))}`;
}

/** Rows that follow one another, with what goes into them. */
export interface Run {
  readonly firstRow: number;
  readonly puts: readonly Put[];
}

/** The cells of a column in runs of following rows, none longer than a request may be. */
export function runsOf({ rows, values, formula }: ColumnCells): Run[] {
  const runs: { firstRow: number; puts: Put[] }[] = [];
  rows.forEach((row, at) => {
    const put = formula === undefined ? putOf(values[at] ?? null) : formulaOf(formula, row);
    const last = runs.at(-1);
    const follows = last !== undefined && last.firstRow + last.puts.length === row;
    if (follows && last.puts.length < MOST_CELLS) last.puts.push(put);
    else runs.push({ firstRow: row, puts: [put] });
  });
  return runs;
}
