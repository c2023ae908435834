import type { ColumnCells, Formula } from "../../src/book/workbook/plan.ts";
import type { CellValue } from "../../src/book/workbook/snapshot.ts";
import { isCellError } from "../../src/book/workbook/snapshot.ts";

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

/** Texts that Excel would take for something else: a sign first, any digit of any script, a truth value. */
const READ_OTHERWISE = /^['=+\-@#＝＋－＠]|\p{N}|^\s*(?:true|false)\s*$/iu;

/** A formula of a row as Excel takes it; our functions are called by their own names there. */
export function formulaOf({ text }: Formula, row: number): string {
  return `=${text.replaceAll("{r}", String(row + 1))}`;
}

/** Characters of a request: even where each takes three bytes it stays below the 5 MB of Excel on the web. */
export const MOST_CHARACTERS = 1_000_000;

/** What a range and the actions on it take of a request. */
export const ACTION_CHARACTERS = 500;

/** Characters a cell takes of a request. */
export function weightOf(put: Put): number {
  return typeof put === "string" ? put.length + 6 : 8;
}

/** Rows that follow one another, with what goes into them. */
export interface Run<T> {
  readonly firstRow: number;
  readonly items: readonly T[];
  readonly weight: number;
}

/** Items of rows in runs of following rows, none heavier than a quarter of a request. */
export function runsOf<T>(
  rows: readonly number[],
  itemAt: (at: number) => T,
  weigh: (item: T) => number,
): Run<T>[] {
  const runs: { firstRow: number; items: T[]; weight: number }[] = [];
  rows.forEach((row, at) => {
    const item = itemAt(at);
    const weight = weigh(item);
    const last = runs.at(-1);
    const follows = last !== undefined && last.firstRow + last.items.length === row;
    if (follows && last.weight + weight <= MOST_CHARACTERS / 4) {
      last.items.push(item);
      last.weight += weight;
    } else runs.push({ firstRow: row, items: [item], weight: weight + ACTION_CHARACTERS });
  });
  return runs;
}

/** The cells of a column as Excel takes them, in runs. */
export function columnRuns({ rows, values, formula, format }: ColumnCells): Run<Put>[] {
  const putAt = (at: number): Put =>
    formula === undefined ? putOf(values[at] ?? null) : formulaOf(formula, rows[at] ?? 0);
  return runsOf(rows, putAt, (put) => weightOf(put) + formatWeight(format));
}

/** The rows of a column's formula in runs, each of which takes one formula and a copy of it downwards. */
export function copiedRuns({ rows, formula, format }: ColumnCells): Run<null>[] {
  const length = formula?.text.length ?? 0;
  return runsOf(
    rows,
    () => null,
    () => formatWeight(format),
  ).map((run) => ({ ...run, weight: run.weight + length + ACTION_CHARACTERS }));
}

/** Characters a cell's number format takes of a request. */
function formatWeight(format: string | undefined): number {
  return format === undefined ? 0 : format.length + 5;
}

/**
 * Whether a formula may be written once and copied downwards: Excel then moves every row that has no $,
 * so each such row must be the formula's own.
 */
export function isCopyable({ text }: Formula): boolean {
  const bare = text.replace(/"[^"]*"|'[^']*'/g, "");
  return !/\$\{r\}|[0-9]:[0-9]|(?<![A-Za-z0-9_.$])\$?[A-Z]{1,3}[0-9]+(?![A-Za-z0-9_.(])/i.test(
    bare.replace(/\$?[A-Z]{1,3}\{r\}/gi, ""),
  );
}
