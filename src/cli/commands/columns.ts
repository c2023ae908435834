import { z } from "zod";
import type { Mode } from "../../book/columns/our-column.ts";
import { columnsPlan, writeBar } from "../../book/columns/columns-plan.ts";
import { liveLoadSays } from "../../book/columns/live-load.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import type { Plan } from "../../book/workbook/plan.ts";
import type { Request } from "../arguments.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { type ExitCode, type Io, UsageError } from "../io.ts";
import { targetOf, tellFaults, writePlan } from "../job.ts";
import { PROBLEMS, problemsJson, REGISTER, registersJson } from "../json.ts";
import { needDevices, type OpenBook, openBook } from "../open.ts";
import { choice, usual } from "../option.ts";
import { progressOn } from "../progress.ts";
import { list } from "../result.ts";
import { matchLines } from "../report.ts";
import { linesText } from "../shown.ts";

/** What the columns are written as. */
export const AS = usual(
  "portable",
  choice(
    ["portable", "live", "values"],
    "native formulas (the default), our worksheet functions, or values",
  ),
);

const RESULT = z.strictObject({
  summary: z.string(),
  edits: list(z.string()),
  registers: list(REGISTER),
  problems: PROBLEMS,
  written: z.string().optional(),
});

const OPTIONS = { as: AS };

/** The computed columns, our sheets, and everything else untouched. */
export const columns = command({
  name: "columns",
  moment: "The book",
  brief: "next due dates, states and row checks beside every device",
  about: `Adds interval, next due, state and row check of each part at the right edge of the register, and
Setup, Parts, Sites, Holidays, Job log, Shelf and Read me where they are missing. Nothing else
changes. If the workbook already has the columns, updates them.`,
  words: BOOK,
  writes: "-o OUT",
  common: ["in-place", "report-date"],
  examples: [
    "columns equipment.xlsx -o with-columns.xlsx",
    "columns equipment.xlsx --dry-run",
    "columns equipment.xlsx --in-place",
  ],
  options: OPTIONS,
  result: RESULT,
  run: addColumns,
});

function addColumns(asked: Asked<string, typeof OPTIONS, z.infer<typeof RESULT>>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  const progress = progressOn(io);
  const target = targetOf(request, path);
  const book = openBook(path, request, io, progress);
  progress.step("planning");
  const plan = planFor(book, given.as, request, io);
  if (!request.json) io.err(linesText(matchLines(book.reading)));
  const slow = given.as === "live" ? liveLoadSays(book.reading) : null;
  if (slow !== null) io.err(linesText([slow]));
  const done = request.dryRun
    ? describePlan(plan)
    : writePlan(book, plan, { target, request, progress, io });
  say(
    () => done,
    () => ({ ...planJson(plan, book), ...(request.dryRun ? {} : { written: target }) }),
  );
  return tellFaults(book, io);
}

/** The columns plan of an open book, refused where the sheet is filtered or protected. */
export function planFor(book: OpenBook, mode: Mode, request: Request, io: Io): Plan {
  const { snapshot } = book.workbook;
  const bar = writeBar(snapshot, book.reading, request);
  if (bar !== null) throw new UsageError(bar);
  needDevices(book);
  if (mode === "live" && snapshot.dateSystem === 1904) {
    throw new UsageError("live columns need a workbook of the 1900 date system; use --as portable");
  }
  return columnsPlan(snapshot, book.reading, {
    mode,
    today: io.today(),
    force: request.force,
  });
}

function planJson(plan: Plan, book: OpenBook) {
  const [summary = "", ...edits] = describePlan(plan);
  return {
    summary,
    edits,
    registers: registersJson(book.reading),
    problems: problemsJson(book),
  };
}
