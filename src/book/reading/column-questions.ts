// What a person is asked, or told, about the columns of a register.
import { type Candidate, type Matcher, saysLastReplaced } from "../headings/match.ts";
import { type Pieces, positionOf } from "../headings/positions.ts";
import { listed, notice } from "../records/problems.ts";
import { isPosition } from "../records/positions.ts";
import type { ColumnMatch, Problem } from "../records/records.ts";
import type { Page } from "../workbook/cells.ts";

/** Columns that fit a field equally well. */
export function askWhich(
  page: Page,
  title: string,
  key: string,
  columns: readonly Candidate[],
): Problem {
  const names = listed(columns.map(({ heading }) => `"${heading}"`));
  return notice(
    "unclear column",
    { ...at(page), column: columns[0]?.column ?? null, heading: columns[0]?.heading ?? "" },
    `${names} fit ${title} equally well.`,
    `State which one it is under "Column ${key}" in Setup.`,
  );
}

/** A column of one piece of a part, and none of the others. */
export function askOthers(page: Page, { field, column, heading }: ColumnMatch): Problem[] {
  const piece = positionOf(heading);
  if (!field.startsWith("last:") || isPosition(field) || piece === null) return [];
  return [
    notice(
      "unclear column",
      { ...at(page), column, heading },
      `"${heading}" speaks of one piece (${piece.position}), and no column of the others was found: what they are due is not known.`,
      "Add a column for each of the others; only if it is the date of the complete set leave the piece out of the heading.",
    ),
  ];
}

/** A part with a column for each of its pieces: all are named, and the earliest date counts. */
export function severalPieces(page: Page, { field, matches }: Pieces): Problem {
  const names = listed(
    matches.map(({ heading }) => `"${heading}"`),
    matches.length,
  );
  const [first] = matches;
  return notice(
    "several positions",
    { ...at(page), column: first?.column ?? null, heading: first?.heading ?? "" },
    `${names} are dates of one part (${field.title}): the earliest of a row counts, and none while one is missing.`,
    "Nothing needs to be done; a job in the Job log that is not a complete set moves none of them.",
  );
}

function at(page: Page): { sheet: string; row: null } {
  return { sheet: page.sheet.name, row: null };
}

interface Asking {
  readonly page: Page;
  readonly matcher: Matcher;
  readonly matches: readonly ColumnMatch[];
}

/** "Last replaced" without the part's name, in a programme with several parts. */
export function askPart({ page, matcher, matches }: Asking, all: readonly Candidate[]): Problem[] {
  const taken = new Set(matches.map(({ column }) => column));
  return all
    .filter((candidate) => !taken.has(candidate.column) && saysLastReplaced(matcher, candidate))
    .map((candidate) =>
      notice(
        "unclear column",
        { ...at(page), column: candidate.column, heading: candidate.heading },
        `"${candidate.heading}" does not say which part was replaced.`,
        'State which part it is, such as under "Column last:SET" in Setup.',
      ),
    );
}
