import { address } from "../workbook/snapshot.ts";
import { counted, listed } from "./problems.ts";
import type { Ours, Problem } from "./records.ts";

/** More cells than these are counted, not named, in a sentence. */
const NAMED = 6;

/**
 * What a job says first, before its figures: which cells of our sheets cannot be trusted, so that careful
 * values stand in for them. Nothing where all are as they must be.
 */
export function doubtsSay({ doubts }: Pick<Ours, "doubts">): string[] {
  if (doubts.length === 0) return [];
  const cells = listed(doubts.map(cellText), NAMED);
  return [
    `In doubt: ${counted(doubts.length, "cell")} of our sheets, so the more careful of what is usual and what other rows say is used: ${cells}. The check names cause and fix.`,
  ];
}

/** "Parts!C4 (Shortest (months))". */
export function cellText({ sheet, row, column, heading }: Problem): string {
  if (row === null || column === null) return `${sheet} (${heading})`;
  return `${sheet}!${address(row, column)} (${heading})`;
}
