import { isBlank, pagesOf } from "../workbook/cells.ts";
import { evidenceOf } from "../headings/column-profile.ts";
import { fieldsFor } from "../headings/fields.ts";
import { matcherOf, showsDates } from "../headings/match.ts";
import { fault, wholeSheet } from "../records/problems.ts";
import type { Part, Problem, Reading } from "../records/records.ts";
import { eachRegister, type RegisterReading } from "../records/registers.ts";
import { type Snapshot, sheetNamed, valueAt } from "../workbook/snapshot.ts";
import { lastDoneTitle, ownTitles } from "../answers/titles.ts";
import { wordsOf } from "../headings/words.ts";
import { jobIndex } from "../records/job-index.ts";

/** A part whose date cannot be known, and the fault that says so for all its devices. */
export interface Undated {
  readonly part: Part;
  /** Our own column that stands there empty; null without one. */
  readonly column: number | null;
  readonly problem: Problem;
}

/**
 * Parts whose date cannot be known: no column was understood, or only our own empty one beside dates
 * that are not used; and the Job log is silent.
 */
export function undatedParts(snapshot: Snapshot, reading: Reading): Undated[] {
  return eachRegister(reading).flatMap((one) => undatedIn(snapshot, one));
}

function undatedIn(snapshot: Snapshot, reading: RegisterReading): Undated[] {
  const { register, devices, ours } = reading;
  if (devices.length === 0) return [];
  const logged = jobIndex(ours).parts;
  return ours.parts
    .filter((part) => !part.task && !logged.has(part))
    .flatMap((part): Undated[] => {
      const match = register.matches.find(({ field }) => field === `last:${part.code}`);
      const column = match?.column ?? null;
      if (column !== null && !isOurEmptyOne(snapshot, reading, { part, column })) return [];
      const nearest = unusedDates(snapshot, reading, part);
      if (column !== null && nearest === null) return [];
      return [{ part, column, problem: noColumn(register.sheet, part, nearest) }];
    });
}

function noColumn(sheet: string, part: Part, nearest: string | null): Problem {
  const option = (heading: string): string => `give --match "last:${part.code}=${heading}"`;
  return fault(
    "no column",
    wholeSheet(sheet),
    `No heading was understood as the last replacement of ${part.name}.`,
    nearest === null
      ? `If a column holds it, ${option("its heading")}.`
      : `If it is the column "${nearest}", ${option(nearest)}.`,
  );
}

function isOurEmptyOne(
  snapshot: Snapshot,
  { register }: RegisterReading,
  { part, column }: { readonly part: Part; readonly column: number },
): boolean {
  const sheet = sheetNamed(snapshot, register.sheet);
  const isOurs = register.headings[column]?.toLowerCase() === lastDoneTitle(part).toLowerCase();
  return (
    isOurs && sheet !== null && register.rows.every((row) => isBlank(valueAt(sheet, row, column)))
  );
}

/** The unused column of dates whose heading comes nearest to the part's last replacement. */
function unusedDates(
  snapshot: Snapshot,
  { register, ours }: RegisterReading,
  part: Part,
): string | null {
  const page = pagesOf(snapshot).find(({ sheet }) => sheet.name === register.sheet);
  const last = register.rows.at(-1);
  if (page === undefined || last === undefined) return null;
  const matcher = matcherOf(fieldsFor(ours.parts));
  const field = matcher.fields.find(({ key }) => key === `last:${part.code}`);
  const used = new Set(register.matches.map(({ column }) => column));
  const own = new Set([...ownTitles(ours.parts)].map((title) => title.toLowerCase()));
  const unused = register.headings.flatMap((heading, column) => {
    if (heading === "" || used.has(column) || own.has(heading.toLowerCase())) return [];
    // "Next calibration" and such hold dates of something else.
    if (wordsOf(heading, null).some(({ turning }) => turning)) return [];
    const evidence = evidenceOf(page, column, register.headerRow + 1, last);
    if (!showsDates(evidence)) return [];
    return [
      { heading, near: field === undefined ? 0 : matcher.likeness(heading, field, evidence) },
    ];
  });
  return unused.sort((one, other) => other.near - one.near)[0]?.heading ?? null;
}
