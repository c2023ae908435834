import { leftUndone, lotTakesBack, mustGo, noteReader } from "../../headings/job-text.ts";
import { type RemarkReader, remarkReader } from "../../headings/remark-text.ts";
import { damageIn } from "../../records/finding-words.ts";
import { type CellPlace, fault, oneForACell } from "../../records/problems.ts";
import type { Job, Problem } from "../../records/records.ts";
import { remembering } from "../../records/remembering.ts";
import { JOB_LOG } from "../../sheets/job-log.ts";
import { findSheet, headingColumn, type Layout, textOf } from "../../sheets/layout.ts";
import { besideColumns } from "../../sheets/lost-headings.ts";
import { cellAt, type Sheet, type Snapshot, valueAt } from "../../workbook/snapshot.ts";
import { firstWords, wordsSaid } from "../told/first-words.ts";
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
  const ear: Ear = {
    says: remarkReader(ours.parts).says,
    takesBack: noteReader(),
    lotTakesBack: remembering(lotTakesBack),
  };
  const beside = saidBeside(sheet, JOB_LOG);
  const told: Problem[] = [];
  const placeOf = (row: number, heading: string): CellPlace => {
    return { sheet: sheet.name, row, column: headingColumn(sheet, heading), heading };
  };
  const heard = ours.jobs.map((one): Job => {
    const change = changeBy(one, beside(one.row), ear);
    if (change === null) return one;
    const { said, heading, does } = change;
    const cause = `Beside it stands ${firstWords(said)}; it ${does}.`;
    told.push(fault("remark", placeOf(one.row, heading), cause, SETTLE));
    return { ...one, ...change.to };
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

/** What is written beside a job and changes what it says. */
interface Change {
  readonly said: string;
  /** The column that no longer says what it shows. */
  readonly heading: string;
  readonly does: string;
  readonly to: Partial<Job>;
}

/** What hears the words beside jobs, each wording once. */
interface Ear {
  readonly says: RemarkReader["says"];
  readonly takesBack: ReturnType<typeof noteReader>;
  readonly lotTakesBack: typeof lotTakesBack;
}

function changeBy(one: Job, beside: readonly string[], ear: Ear): Change | null {
  const { job, note, part, date, finding } = one;
  const texts = [note, ...beside].filter((text) => text !== "");
  if (job === "replaced" || job === "calibrated") {
    const said = texts.find((text) => ear.takesBack(text, date)) ?? besideJob(one, ear);
    if (date === null || said === undefined) return null;
    const to = { date: null, undone: [date] };
    return { said, heading: "Date", does: "is not counted", to };
  }
  if (damageIn(finding) !== null) return null;
  const undone = job === "inspected" ? texts.find(leftUndone) : undefined;
  if (undone !== undefined) {
    return { said: undone, heading: "Date", does: "is not counted", to: { date: null } };
  }
  const isTaken = job === "withdrawn" && part !== "" && finding === "";
  const against = (text: string): boolean => ear.says(text) === "against" || mustGo(text);
  const said = [...texts, ...(isTaken ? [job] : [])].find(against);
  if (said === undefined) return null;
  const does = "counts as a finding until the part is replaced";
  return { said, heading: "Finding", does, to: { finding: IN_NOTE } };
}

/** What stands under Lot or By and takes back the replacement; initials take back none. */
function besideJob({ lot, by }: Pick<Job, "lot" | "by">, ear: Ear): string | undefined {
  if (lot !== "" && ear.lotTakesBack(lot)) return lot;
  return by.includes(" ") && ear.takesBack(by, null) ? by : undefined;
}
