import { isoText } from "../core/day.ts";
import { columnsPlan } from "../book/columns/columns-plan.ts";
import { modeOf } from "../book/columns/mode.ts";
import { describePlan } from "../book/workbook/describe.ts";
import type { Entry } from "../book/day/entry-meant.ts";
import { LOG_SHEETS, logChange } from "../book/day/log-change.ts";
import { logEntry, type Logged } from "../book/day/entry.ts";
import { judge } from "../book/columns/judge.ts";
import { markOf } from "../book/answers/looks.ts";
import { partNamed } from "../book/records/parts.ts";
import type { Plan } from "../book/workbook/plan.ts";
import { resultPlan } from "../book/sheets/result-plan.ts";
import { findSheet } from "../book/sheets/layout.ts";
import { JOB_LOG } from "../book/sheets/job-log.ts";
import { dateOf, type Wish } from "./arguments.ts";
import { type Io, UsageError } from "./io.ts";
import { type Command, onlyWord, say, targetOf, tellFaults, writeBytes } from "./job.ts";
import { applied, type OpenBook, openBook } from "./open.ts";
import { progressOn } from "./progress.ts";

/** Logs one job: a row of the Job log, the register's date, the shelf; says the new due date. */
export const log: Command = (wish, io) => {
  const path = onlyWord(wish, "workbook");
  const progress = progressOn(io);
  const target = targetOf(wish, path);
  const entry = entryOf(wish, io);
  const before = openBook(path, wish, io, progress);
  const ready = withLog(before, wish, io);
  const { snapshot } = ready.workbook;
  const logged = logEntry(snapshot, ready.reading, { entry, again: wish.flag("again") });
  const change = logChange(entry, logged);
  const { summary } = change;
  const plan = resultPlan(snapshot, ready.reading, { ...change, today: io.today() });
  progress.step("logging");
  const after = refreshed(applied(ready, plan, wish, io), wish, io);
  const now = stateOf(after, logged);
  const lines = [summary, ...logged.told, now.line];
  const written = wish.dryRun
    ? describePlan(plan)
    : writeBytes(after.bytes, { read: before.bytes, summary, target, wish, io });
  say(
    io,
    wish,
    () => [...lines, "", ...written],
    () => ({
      ...now.json,
      told: logged.told,
      ...(wish.dryRun ? { edits: written } : { written: target }),
    }),
  );
  return tellFaults(wish.dryRun ? after : { ...after, path: target }, io);
};

function entryOf(wish: Wish, io: Io): Entry {
  const said = (name: "device" | "job" | "part"): string => {
    const text = wish.text(name);
    if (text === null) throw new UsageError(`say --${name}; see sparespan log --help`);
    return text.trim();
  };
  return {
    date: dateOf("date", wish.text("date")) ?? wish.reportDate ?? io.today(),
    device: said("device"),
    part: said("part"),
    job: said("job").toLowerCase(),
    finding: (wish.text("finding") ?? "").trim().toLowerCase(),
    complete: wish.flag("complete"),
    lot: (wish.text("lot") ?? "").trim(),
    by: (wish.text("by") ?? "").trim(),
    note: (wish.text("note") ?? "").trim(),
  };
}

/** The book with our sheets, so that there is a Job log to write into. */
function withLog(book: OpenBook, wish: Wish, io: Io): OpenBook {
  if (findSheet(book.workbook.snapshot, JOB_LOG) !== null) return book;
  const plan: Plan = resultPlan(book.workbook.snapshot, book.reading, {
    ...LOG_SHEETS,
    today: io.today(),
  });
  return applied(book, plan, wish, io);
}

/** Computed columns that are there say what holds after the job. */
function refreshed(book: OpenBook, wish: Wish, io: Io): OpenBook {
  const { snapshot } = book.workbook;
  const mode = modeOf(snapshot, book.reading);
  if (mode === null) return book;
  const plan = columnsPlan(snapshot, book.reading, { mode, today: io.today(), force: false });
  return plan.edits.length === 0 ? book : applied(book, plan, wish, io);
}

/** The part's state once the job is logged. */
function stateOf(
  { workbook, reading }: OpenBook,
  { device, part: logged }: Logged,
): { readonly line: string; readonly json: object } {
  // The book was read anew: a finding is the part's that was read with it.
  const part = partNamed(reading.ours.parts, logged.code) ?? logged;
  const at = reading.devices.findIndex(({ row }) => row === device.row);
  const row = judge(workbook.snapshot, reading).rows(part)[at];
  if (row === undefined) throw new UsageError(`${device.id} is no longer in the register`);
  const { due, state, check, interval } = row.answers;
  const when = due === null ? "no due date" : `next due ${isoText(due)}`;
  const why = check === "OK" ? "" : ` (${check})`;
  return {
    line: `${part.name} of ${device.id}: ${when}, ${markOf(state)} ${state}${why}.`,
    json: {
      device: device.id,
      part: part.code,
      interval,
      due: due === null ? null : isoText(due),
      state,
      check,
    },
  };
}
