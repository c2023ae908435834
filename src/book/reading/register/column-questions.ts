// What a person is asked, or told, about the columns of a register; no figure comes of it.
import { type Candidate, type Matcher, saysLastReplaced } from "../../headings/match.ts";
import type { Pieces } from "../../headings/positions.ts";
import type { Field } from "../../headings/fields.ts";
import type { BareLimit } from "../../headings/own-limits.ts";
import { isOwnDue, isOwnLimit, partOfField } from "../../records/own-limits.ts";
import { fault, listed, notice } from "../../records/problems.ts";
import { besideIt, positionOf } from "../../records/position-words.ts";
import { fieldOfPart, isPosition, isLastDone } from "../../records/positions.ts";
import type { Settings } from "../../records/settings.ts";
import type { ColumnMatch, Problem } from "../../records/records.ts";
import type { Matching } from "./register-sheet.ts";
import { type Page, trueDate } from "../../workbook/cells.ts";
import { columnLetters } from "../../workbook/snapshot.ts";

/** Everything that is asked or told about the columns of a register. */
export function columnQuestions(
  { page, heading, lastRow, matches, candidates, asked }: Matching,
  { matcher, which }: { readonly matcher: Matcher; readonly which: Settings["positions"] },
): Problem[] {
  const rows = { first: heading.last + 1, last: lastRow };
  return [
    ...asked.unclear.map(({ field, columns }) => askWhich(page, field.title, field.key, columns)),
    ...asked.pieces.map((one) => severalPieces(page, one, { which, rows })),
    ...matches.flatMap((match) => askOthers(page, match, matches)),
    ...askPart({ page, matcher, matches }, candidates),
    ...askLimits(page, asked.bare, matches),
  ];
}

/** Columns that fit a field equally well. */
function askWhich(page: Page, title: string, key: string, columns: readonly Candidate[]): Problem {
  const names = namesOf(columns);
  return notice(
    "unclear column",
    { ...at(page), column: columns[0]?.column ?? null, heading: columns[0]?.heading ?? "" },
    `${names} fit ${title} equally well.`,
    `State which one it is under "Column ${key}" in Setup.`,
  );
}

/** Headings as they stand; where two are the same the letters of their columns tell them apart. */
function namesOf(
  columns: readonly { readonly heading: string; readonly column: number }[],
): string {
  const said = columns.map(({ heading }) => heading.trim().toLowerCase());
  const isSame = new Set(said).size < said.length;
  const names = columns.map(({ heading, column }) =>
    isSame ? `"${heading}" (column ${columnLetters(column)})` : `"${heading}"`,
  );
  return listed(names, names.length);
}

/** A column of one position of a part, and none of the others. */
function askOthers(
  page: Page,
  { field, column, heading }: ColumnMatch,
  all: readonly ColumnMatch[],
): Problem[] {
  const piece = positionOf(heading);
  if (!isLastDone(field) || piece === null) return [];
  if (all.some((other) => other.field !== field && fieldOfPart(other.field) === fieldOfPart(field)))
    return [];
  const others = besideIt(piece.position).filter((name) => name !== piece.position);
  const known = isPosition(field)
    ? `when ${listed(others)} was last replaced is not known, so there is no date for it`
    : "it was chosen as the date of the complete set";
  const say = isPosition(field) ? fault : notice;
  return [
    say(
      "unclear column",
      { ...at(page), column, heading },
      `"${heading}" speaks of one position (${piece.position}), and no column of ${listed(others)} was found: ${known}.`,
      "Add a column for each of the others; only if it is the date of the complete set leave the position out of the heading.",
    ),
  ];
}

const WHAT_COUNTS: Readonly<Record<Settings["positions"], readonly [string, string]>> = {
  each: [
    "each has an interval of its own",
    'Nothing needs to be done. In the Job log name the position, such as "CUSHION left", or mark the set as complete; a replacement that does neither counts for none of them.',
  ],
  earliest: [
    "the earliest of a row counts, and none while one is missing",
    "Nothing needs to be done; a job in the Job log that is not a complete set moves none of them.",
  ],
};

/** Fewer rows with several dates than these say nothing about their order. */
const ROWS_THAT_TELL = 4;
const oneAfterAnother = ({ key }: Field): string =>
  `In every row the dates rise from left to right: if they are one part's replacements one after another, each of the earlier ones counts too until you add a column of the latest in each row, as =MAX gives it, and name it in Setup under "Column ${key}".`;

/**
 * Whether the dates of numbered columns rise in every row, as those of one part's replacements do, in enough rows, or
 * in some where others have the later ones still to come.
 */
function riseInRows(page: Page, matches: readonly ColumnMatch[], rows: Rows): boolean {
  if (!matches.every(({ field }) => / \d+$/.test(field))) return false;
  let [telling, open] = [0, 0];
  for (let row = rows.first; row <= rows.last; row += 1) {
    const cells = matches.map(({ column }) => trueDate(page, row, column));
    const dates = cells.filter((date) => date !== null);
    if (dates.length > 0 && cells.lastIndexOf(null) === cells.length - 1) open += 1;
    if (dates.length < 2) continue;
    if (dates.some((date, at) => at > 0 && date <= (dates[at - 1] ?? date))) return false;
    telling += 1;
  }
  return telling >= ROWS_THAT_TELL || (telling > 1 && open > 0);
}

interface Rows {
  readonly first: number;
  readonly last: number;
}

/** A part with a column for each of its positions: all are named, and what counts. */
function severalPieces(
  page: Page,
  { field, matches }: Pieces,
  { which, rows }: { readonly which: Settings["positions"]; readonly rows: Rows },
): Problem {
  const [counts, usual] = WHAT_COUNTS[which];
  const fix = riseInRows(page, matches, rows) ? oneAfterAnother(field) : usual;
  const names = namesOf(matches);
  const [first] = matches;
  return notice(
    "several positions",
    { ...at(page), column: first?.column ?? null, heading: first?.heading ?? "" },
    `${names} are dates of one part (${field.title}): ${counts}.`,
    fix,
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
function askPart({ page, matcher, matches }: Asking, all: readonly Candidate[]): Problem[] {
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

/**
 * Limits of the register's own: those whose part cannot be told, which may be stricter than ours, and those that
 * count beside ours.
 */
function askLimits(
  page: Page,
  bare: readonly BareLimit[],
  matches: readonly ColumnMatch[],
): Problem[] {
  const isDated = matches.some(({ field }) => isLastDone(field));
  const unknown = bare.flatMap(({ candidate: { column, heading }, kind, match }) =>
    match === null && isDated
      ? fault(
          "own limit unclear",
          { ...at(page), column, heading },
          `It is not clear of which dates "${heading}" is the limit, so it is not compared with ours, which may be later or longer.`,
          `Name the part in the heading, or state it in Setup, such as under "Column ${kind}:SET"; "none" there for a column of something else.`,
        )
      : [],
  );
  const counted = matches.flatMap(({ field, column, heading }) => {
    if (!isOwnLimit(field)) return [];
    const [own, counts] = isOwnDue(field)
      ? ["your own due dates", "the earlier of yours and ours counts"]
      : ["your own interval", "the shorter of yours and ours counts"];
    const part = partOfField(field) ?? "";
    // Without a day from which ours is counted nothing is judged, and so is nothing against it.
    if (matches.every((one) => isOwnLimit(one.field) || partOfField(one.field) !== part)) {
      return notice(
        "own limit",
        { ...at(page), column, heading },
        `"${heading}" holds ${own} of ${part}, but no column says when it was last done: nothing is judged by it.`,
        `Add a column headed by the part's name and "replaced", or a task's and "done", or give --match "last:${part}=HEADING".`,
      );
    }
    return notice(
      "own limit",
      { ...at(page), column, heading },
      `"${heading}" holds ${own} of ${field.slice(field.indexOf(":") + 1)}: in each row ${counts}.`,
      `Nothing needs to be done; if it is something else, write none under "Column ${fieldOfPart(field)}" in Setup.`,
    );
  });
  return [...unknown, ...counted];
}
