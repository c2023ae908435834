import type { ProblemKind } from "./problem-kinds.ts";
import type { Problem } from "./records.ts";
import { remembering } from "./remembering.ts";
import { cellKey } from "../workbook/snapshot.ts";

/** Where a problem stands; a row or column of null means the whole of it. */
export interface CellPlace {
  readonly sheet: string;
  readonly row: number | null;
  readonly column: number | null;
  readonly heading: string;
}

/** A problem that makes rows wrong. */
export function fault(kind: ProblemKind, place: CellPlace, cause: string, fix: string): Problem {
  return { kind, ...place, cause, fix, severity: "fault" };
}

/** A problem that is stated and does not make rows wrong. */
export function notice(kind: ProblemKind, place: CellPlace, cause: string, fix: string): Problem {
  return { kind, ...place, cause, fix, severity: "notice" };
}

/** The same problem with what its cell is certain to mean. */
export function mendable(problem: Problem, value: string | number, isDate = false): Problem {
  return { ...problem, mend: { value, isDate } };
}

/** A whole sheet as a place. */
export function wholeSheet(sheet: string): CellPlace {
  return { sheet, row: null, column: null, heading: "" };
}

/** "1 device", "2 devices": a number with its word; words that do not take an s are given. */
export function counted(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** "A1", "A1 and B2", "A1, B2 and 3 more": the first few of a list in a sentence. */
export function listed(items: readonly string[], most = 3): string {
  if (items.length > most) {
    return `${items.slice(0, most).join(", ")} and ${items.length - most} more`;
  }
  const last = items.at(-1) ?? "";
  return items.length < 2 ? last : `${items.slice(0, -1).join(", ")} and ${last}`;
}

/**
 * Reports in the order of sheet, row and column, at most one for a cell: the first one reported for a cell
 * is the most telling one, because the checks run from the most to the least telling.
 */
export function oneForACell(problems: readonly Problem[]): Problem[] {
  const toldOf = remembering<string, Set<number>>(() => new Set());
  return problems.filter(({ sheet, row, column }) => {
    if (row === null || column === null) return true;
    const told = toldOf(sheet);
    const before = told.size;
    return told.add(cellKey(row, column)).size > before;
  });
}

/** A date that a formula moves on by itself, so that it is the day of nothing that was done. */
function movingDate(place: CellPlace, fix: string): Problem {
  const cause = "A formula in the cell moves the date on by itself, as TODAY() does.";
  return fault("moving date", place, cause, fix);
}

/** What is struck through holds no longer, and what holds in its place cannot be known. */
export function struckOut(place: CellPlace, fix: string): Problem {
  const cause = "The cell is struck through, in whole or in part, so it is not used.";
  return fault("struck out", place, cause, fix);
}

/** The day of a job that is struck through. */
export function struckJob(place: CellPlace): Problem {
  return struckOut(
    place,
    "Clear the row if it was not done, or take the line off; until then the job is not counted.",
  );
}

/** The day of a job that a formula moves on. */
export function movingJob(place: CellPlace): Problem {
  return movingDate(
    place,
    "Type the day it was done as a date; until then the job is not counted.",
  );
}
