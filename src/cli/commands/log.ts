import { z } from "zod";
import { type Day, isoText } from "../../core/day.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import type { Entry } from "../../book/day/entry-meant.ts";
import { LOG_SHEETS, logChange } from "../../book/day/log-change.ts";
import { logEntry, type Logged } from "../../book/day/entry.ts";
import { judgedAgain } from "../../book/columns/judged-again.ts";
import { markOf } from "../../book/answers/marks.ts";
import type { Plan } from "../../book/workbook/plan.ts";
import { resultPlan } from "../../book/sheets/result-plan.ts";
import { findSheet } from "../../book/sheets/layout.ts";
import { JOB_LOG } from "../../book/sheets/job-log.ts";
import type { Request } from "../arguments.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { type ExitCode, type Io, UsageError } from "../io.ts";
import { inputOf, targetOf, tellFaults, writeBytes } from "../job.ts";
import { applied, type OpenBook, openBook } from "../open.ts";
import { partKey, partText } from "../../book/records/positions.ts";
import { date, flag, type Given, text, whole } from "../option.ts";
import { DATE, jobResult, list } from "../result.ts";
import { logMany, MANY } from "./log-many.ts";
import { progressOn } from "../progress.ts";
import { refreshed } from "../refreshed.ts";

const STATE = {
  device: z.string(),
  part: z.string(),
  // "" where no interval can be given, as in the column.
  interval: z.union([z.number(), z.literal("")]),
  due: DATE.nullable(),
  state: z.enum(["Overdue", "Check row", "Due soon", "Not due", "Retired"]),
  check: z.string(),
};

const RESULT = { ...STATE, notes: list(z.string()) };

/** What --json prints: of one job, or of several. */
const PRINTED = z.union([jobResult(RESULT), jobResult(MANY)]);
type Result = z.infer<typeof PRINTED>;

const OPTIONS = {
  from: text(
    "FILE",
    "the jobs of a file, CSV with headings or JSON, one a line, instead of one job",
  ),
  rounds: text(
    "ROUNDBOOK",
    "what was typed into the round sheets of this workbook, instead of one job",
  ),
  partly: flag("with --from or --rounds: log the lines that can be, though others are refused"),
  device: text("ID", "as in the register"),
  row: whole("ROW", "its row in the register, where it stands in several", [1, 1048576]),
  sheet: text("SHEET", "the register of that row, where it stands on several"),
  part: text("PART", "code or name from Parts"),
  position: text("POSITION", "which position of it, such as left"),
  job: text("JOB", "inspected, replaced, calibrated, withdrawn or returned"),
  by: text("WHO", "role or initials; required"),
  finding: text("WHAT", "clean, residue, corrosion, crack, hardened or other"),
  complete: flag("every piece of the set was replaced; without it the interval runs on"),
  date: date("the day it was done; otherwise the report date"),
  lot: text("LOT", "of the new part"),
  note: text("TEXT", "for the row of the Job log"),
  again: flag("the same job was done a second time, or on a retired device"),
};

/** Logs one job: a row of the Job log, the register's date, the shelf; says the new due date. */
export const log = command({
  name: "log",
  moment: "The day",
  brief: "record jobs: Job log, shelf and new due date",
  about: `Logs one job: a row in the Job log, the register's date if the complete part was replaced, and one
spare taken off the Shelf. Prints the date it replaces (kept in the Note if the Job log does not have
it) and the new due date. The same entry twice, or a job on a retired device, is refused without --again; of a
device that stands in several rows, say which one with --row, and of several registers with --sheet.

Where the register has a date for each position of a part, such as left and right, say with --position which
one was replaced, or --complete for all of them.

Several jobs: --from takes a file with the headings (or keys) date, device, part, position, job, finding,
complete, lot, by, note, row, sheet; --rounds what somebody typed into round sheets, an inspection for each
date and a replacement for each lot. Every line that is refused is told, and then nothing is written without
--partly. A job that the log has already is not logged twice. -n shows what would be written.`,
  words: BOOK,
  writes: "-o OUT",
  common: ["in-place"],
  examples: [
    "log equipment.xlsx --device VR-104 --part SET --job replaced --complete --lot L2417 --by LS1 --in-place",
    "log equipment.xlsx --rounds rounds.xlsx --in-place",
    "log equipment.xlsx --from jobs.csv -n",
    "log equipment.xlsx --device VR-104 --part CUSHION --job inspected --finding crack --by LS1 --in-place",
  ],
  options: OPTIONS,
  result: PRINTED,
  run: logJob,
});

function logJob(asked: Asked<string, typeof OPTIONS, Result>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  const { from, rounds, partly } = given;
  if (from !== null || rounds !== null) {
    refuseOneJob(given);
    const ready = (book: OpenBook): OpenBook => withLog(book, request, io);
    return logMany({ path, from, rounds, partly, request, io, ready, say });
  }
  const progress = progressOn(io);
  const target = targetOf(request, path);
  const entry = entryOf(given, request.reportDate ?? io.today());
  const before = openBook(path, request, io, progress);
  const ready = withLog(before, request, io);
  const { snapshot } = ready.workbook;
  const logged = logEntry(snapshot, ready.reading, { entry, again: given.again });
  const change = logChange(entry, logged);
  const { summary } = change;
  const plan = resultPlan(snapshot, ready.reading, { ...change, today: io.today() });
  progress.step("logging");
  const after = refreshed(applied(ready, plan, request, io), request, io);
  const now = stateOf(after, logged);
  const lines = [summary, ...logged.notes, ...now.lines];
  const written = request.dryRun
    ? describePlan(plan)
    : writeBytes(after.bytes, { ...inputOf(before), summary, target, request, io });
  say(
    () => [...lines, "", ...written],
    () => ({
      ...now.json,
      notes: logged.notes,
      ...(request.dryRun ? { edits: written } : { written: target }),
    }),
  );
  // Other rows may have faults, which are told; the job itself is done.
  tellFaults(request.dryRun ? after : { ...after, path: target }, io);
  return 0;
}

/** A file of jobs, or round sheets, say all there is to say. */
function refuseOneJob(given: Given<typeof OPTIONS>): void {
  if (given.from !== null && given.rounds !== null) {
    throw new UsageError("give either --from or --rounds, not both");
  }
  const also = (
    [
      "device",
      "row",
      "sheet",
      "part",
      "position",
      "job",
      "by",
      "finding",
      "date",
      "lot",
      "note",
    ] as const
  ).find((name) => given[name] !== null);
  const flagged = given.complete ? "complete" : given.again ? "again" : null;
  const found = also ?? flagged;
  if (found !== null) throw new UsageError(`--${found} is for one job, not for --from or --rounds`);
}

function said(value: string | null, name: string): string {
  if (value !== null) return value.trim();
  throw new UsageError(`--${name} is needed; see sparespan log --help`);
}

function entryOf(given: Given<typeof OPTIONS>, usualDay: Day): Entry {
  const { device, row, sheet, part, position, job, finding, complete, lot, by, note } = given;
  return {
    date: given.date ?? usualDay,
    device: said(device, "device"),
    row: row ?? null,
    sheet: sheet ?? null,
    part: partText(said(part, "part"), position ?? ""),
    job: said(job, "job").toLowerCase(),
    finding: (finding ?? "").trim().toLowerCase(),
    complete,
    lot: (lot ?? "").trim(),
    by: (by ?? "").trim(),
    note: (note ?? "").trim(),
  };
}

/** The book with our sheets, so that there is a Job log to write into. */
function withLog(book: OpenBook, request: Request, io: Io): OpenBook {
  if (findSheet(book.workbook.snapshot, JOB_LOG) !== null) return book;
  const plan: Plan = resultPlan(book.workbook.snapshot, book.reading, {
    ...LOG_SHEETS,
    today: io.today(),
  });
  return applied(book, plan, request, io);
}

/** The part's state once the job is logged; of a part with positions each, and of the first due one as JSON. */
function stateOf(
  { workbook, reading }: OpenBook,
  { device, part }: Logged,
): { readonly lines: readonly string[]; readonly json: z.infer<z.ZodObject<typeof STATE>> } {
  const units = judgedAgain(workbook.snapshot, reading, { device, part });
  const [first] = units;
  if (first === undefined) throw new UsageError(`${device.id} is no longer in the register`);
  const { due, state, check, interval } = first.row.answers;
  return {
    lines: units.map((unit) => stateLine(device, unit)),
    json: {
      device: device.id,
      part: partKey(first.part),
      interval,
      due: due === null ? null : isoText(due),
      state,
      check,
    },
  };
}

function stateLine(
  device: Logged["device"],
  { part, row }: ReturnType<typeof judgedAgain>[number],
): string {
  const { due, state, check } = row.answers;
  const when = due === null ? "no due date" : `next due ${isoText(due)}`;
  const why = check === "OK" ? "" : ` (${check})`;
  return `${part.name} of ${device.id}: ${when}, ${markOf(state)} ${state}${why}.`;
}
