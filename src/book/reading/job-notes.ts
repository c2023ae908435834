import { lotTakesBack, mustGo, takesBack } from "../headings/job-text.ts";
import { remarkReader } from "../headings/remark-text.ts";
import { damageIn } from "../records/finding-words.ts";
import { type CellPlace, fault, oneForACell } from "../records/problems.ts";
import type { Job, Problem } from "../records/records.ts";
import { JOB_LOG } from "../sheets/job-log.ts";
import { findSheet, headingColumn, type Layout, textOf } from "../sheets/layout.ts";
import { besideColumns } from "../sheets/lost-headings.ts";
import { cellAt, type Sheet, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import { firstWords, wordsSaid } from "./first-words.ts";
import { withSwappedJobs, type Written } from "./swapped-jobs.ts";
import { withUncounted } from "./uncounted-jobs.ts";
import { withYearSlips } from "./year-slips.ts";

/** What a finding is called that stands in a note alone; no known word, so it counts as damage. */
const IN_NOTE = "see note";
const SETTLE = "Correct or clear the row, then clear what speaks against it.";

/** What people write in a row of a sheet of ours: in columns they added, then in comments. */
export function saidBeside(sheet: Sheet, layout: Layout): (row: number) => string[] {
  const added = besideColumns(sheet, layout);
  const comments = new Map<number, string[]>();
  for (const [key, text] of sheet.comments ?? []) {
    const { row } = cellAt(key);
    comments.set(row, [...(comments.get(row) ?? []), wordsSaid(text)]);
  }
  return (row) => [
    ...added.map((column) => textOf(valueAt(sheet, row, column))),
    ...(comments.get(row) ?? []),
  ];
}

/**
 * Jobs of the Job log without days that may be swapped, and with what is written beside them: under Note, in columns people added, in comments. What
 * condemns a part counts as a finding; what withdraws a replacement takes its day, so that it does not count.
 */
export function withJobNotes(snapshot: Snapshot, plain: Written): Written {
  const written = withSwappedJobs(snapshot, plain);
  const { ours } = written;
  const sheet = findSheet(snapshot, JOB_LOG);
  if (sheet === null) return written;
  const { says } = remarkReader(ours.parts);
  const beside = saidBeside(sheet, JOB_LOG);
  const told: Problem[] = [];
  const placeOf = (row: number, heading: string): CellPlace => {
    return { sheet: sheet.name, row, column: headingColumn(sheet, heading), heading };
  };
  const heard = ours.jobs.map((one): Job => {
    const { row, job, note, part, date, finding, lot, by } = one;
    const renews = job === "replaced" || job === "calibrated";
    if (renews ? date === null : damageIn(finding) !== null) return one;
    const isTaken = job === "withdrawn" && part !== "" && finding === "";
    const texts = [note, ...beside(row), isTaken ? job : ""];
    const said = renews
      ? (texts.find((text) => takesBack(text, date)) ?? besideJob({ lot, by }))
      : texts.find((text) => says(text) === "against" || mustGo(text));
    if (said === undefined) return one;
    const heading = renews ? "Date" : "Finding";
    const does = renews ? "is not counted" : "counts as a finding until the part is replaced";
    told.push(
      fault(
        "remark",
        placeOf(row, heading),
        `Beside it stands ${firstWords(said)}; it ${does}.`,
        SETTLE,
      ),
    );
    return renews
      ? { ...one, date: null, undone: date === null ? "any" : [date] }
      : { ...one, finding: IN_NOTE };
  });
  const { jobs, told: slips } = withYearSlips(heard, ours.settings.reportDate, (row) =>
    placeOf(row, "Date"),
  );
  told.push(...slips);
  const counted = withUncounted(sheet, snapshot, { ...ours, jobs });
  if (told.length === 0) return { ...written, ours: { ...ours, jobs: counted } };
  const first = (others: readonly Problem[]): Problem[] => oneForACell([...told, ...others]);
  return {
    ours: { ...ours, jobs: counted, doubts: first(ours.doubts) },
    problems: first(written.problems),
  };
}

/** What stands under Lot or By and takes back the replacement; initials take back none. */
function besideJob({ lot, by }: Pick<Job, "lot" | "by">): string | undefined {
  if (lot !== "" && lotTakesBack(lot)) return lot;
  return by.includes(" ") && takesBack(by) ? by : undefined;
}
