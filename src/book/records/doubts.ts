import { address } from "../workbook/snapshot.ts";
import { counted, listed } from "./problems.ts";
import type { Problem, Reading } from "./records.ts";

/** More cells than these are counted, not named, in a sentence. */
const NAMED = 6;

type Told = Pick<Reading, "ours" | "problems">;

/**
 * What a job says first, before its figures: which cells of our sheets cannot be trusted, so that careful
 * values stand in for them, which sheets of devices or of their parts are in none of the figures, which colours have a meaning,
 * that formulas are calculated only when asked, and that intervals are shorter than what looks ahead can count.
 * Nothing where all is as it must be.
 */
export function doubtsSay({ ours, problems }: Told): string[] {
  return [
    ...cellsSay(ours.doubts),
    // What is told of several cells is said once.
    ...new Set(beforeAll(problems).map(({ cause, fix }) => `${cause} ${fix}`)),
  ];
}

/** The same as short texts, for programs. */
export function doubtTexts({ ours, problems }: Told): string[] {
  return [
    ...ours.doubts.map(cellText),
    ...new Set(beforeAll(problems).map(({ sheet, kind }) => `${sheet} (${kind})`)),
  ];
}

/** What touches every figure: sheets that may hold devices and are in none, values that may be old, months that are too long. */
function beforeAll(problems: readonly Problem[]): Problem[] {
  return problems.filter(
    ({ kind, severity, said }) =>
      // What has no words yet is told with them.
      said === undefined &&
      (BEFORE_ALL.includes(kind) || (severity === "fault" && FAULTS.includes(kind))),
  );
}

/** Kinds that stand there only where they are faults. */
const FAULTS: readonly Problem["kind"][] = ["unused column", "counts not read", "sheet gone"];
const BEFORE_ALL: readonly Problem["kind"][] = [
  "register not read",
  "sheet not read",
  "shape not read",
  "colours not read",
  "manual calculation",
  "counts in doubt",
  "short own interval",
  "unknown status",
  "device column",
  "damage of no device",
  "site column",
  "linked date",
  "misplaced date",
  "dates in step",
  "own limit missing",
  "own limit unclear",
];

function cellsSay(doubts: readonly Problem[]): string[] {
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
