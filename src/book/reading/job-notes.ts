import { isWithdrawn, remarkReader } from "../headings/remark-text.ts";
import { damageIn } from "../records/finding-words.ts";
import { fault, oneForACell } from "../records/problems.ts";
import type { Job, Problem } from "../records/records.ts";
import { JOB_LOG } from "../sheets/job-log.ts";
import { findSheet, headingColumn, textOf } from "../sheets/layout.ts";
import { besideColumns } from "../sheets/lost-headings.ts";
import { cellAt, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import { firstWords, wordsSaid } from "./comments.ts";
import type { Written } from "./swapped-jobs.ts";

/** What a finding is called that stands in a note alone; no known word, so it counts as damage. */
const IN_NOTE = "see note";

/**
 * Jobs of the Job log with what is written beside them: under Note, in columns people added, in comments. What
 * condemns a part counts as a finding; what withdraws a replacement takes its day, so that it does not count.
 */
export function withJobNotes(snapshot: Snapshot, written: Written): Written {
  const { ours } = written;
  const sheet = findSheet(snapshot, JOB_LOG);
  if (sheet === null) return written;
  const { says } = remarkReader(ours.parts);
  const added = besideColumns(sheet, JOB_LOG);
  const comments = new Map<number, string[]>();
  for (const [key, text] of sheet.comments ?? []) {
    const { row } = cellAt(key);
    comments.set(row, [...(comments.get(row) ?? []), wordsSaid(text)]);
  }
  const told: Problem[] = [];
  const at = (row: number, heading: string) => ({
    ...{ sheet: sheet.name, row, heading },
    column: headingColumn(sheet, heading),
  });
  const jobs = ours.jobs.map((job): Job => {
    const { row, note, finding } = job;
    const cells = added.map((column) => textOf(valueAt(sheet, row, column)));
    const texts = [note, ...cells, ...(comments.get(row) ?? [])].filter((text) => text !== "");
    const renews = job.job === "replaced" || job.job === "calibrated";
    const text = texts.find((one) => (renews ? isWithdrawn(one) : says(one) === "against"));
    if (text !== undefined && renews) {
      if (job.date === null) return job;
      const cause = `Beside it stands ${firstWords(text)}, so the job is not counted.`;
      told.push(
        fault(
          "remark",
          at(row, "Date"),
          cause,
          "Clear the row if it was not done, else what speaks against it.",
        ),
      );
      return { ...job, date: null };
    }
    const isTaken = job.job === "withdrawn" && job.part !== "" && finding === "";
    if ((text === undefined && !isTaken) || damageIn(finding) !== null) return job;
    const what =
      text === undefined ? "The part was withdrawn" : `Beside it stands ${firstWords(text)}`;
    const cause = `${what}, which counts as a finding until the part is replaced.`;
    told.push(
      fault(
        "remark",
        at(row, "Finding"),
        cause,
        "Write what was found under Finding; of a part that is good, clear what speaks against it.",
      ),
    );
    return { ...job, finding: text === undefined ? "withdrawn" : IN_NOTE };
  });
  if (told.length === 0) return written;
  const first = (others: readonly Problem[]): Problem[] => oneForACell([...told, ...others]);
  return {
    ours: { ...ours, jobs, doubts: first(ours.doubts) },
    problems: first(written.problems),
  };
}
