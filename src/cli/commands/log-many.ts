import { z } from "zod";
import { type Entries, logEntries, type PlacedEntry, placedText } from "../../book/day/entries.ts";
import { roundLines } from "../../book/day/round-lines.ts";
import { judgedAgain } from "../../book/columns/judged-again.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import { resultPlan } from "../../book/sheets/result-plan.ts";
import { counted } from "../../book/records/problems.ts";
import { isoText } from "../../core/day.ts";
import { openWorkbook } from "../../xlsx/index.ts";
import { entryLines } from "../entry-lines.ts";
import { NODE_CODEC, readFile, textOfFile } from "../files.ts";
import type { Request } from "../arguments.ts";
import { type ExitCode, type Io, UsageError } from "../io.ts";
import { inputOf, targetOf, tellFaults, writeBytes } from "../job.ts";
import { applied, type OpenBook, openBook } from "../open.ts";
import { progressOn } from "../progress.ts";
import { refreshed } from "../refreshed.ts";
import { DATE, list } from "../result.ts";

const LINE = z.strictObject({
  where: z.string(),
  device: z.string(),
  part: z.string(),
  job: z.string(),
  date: DATE,
});

/** What --json prints of several jobs. */
export const MANY = {
  logged: list(LINE),
  there: list(LINE),
  refused: list(z.strictObject({ where: z.string(), why: z.string() })),
  notes: list(z.string()),
};
type Many = z.infer<z.ZodObject<typeof MANY>> & {
  readonly edits?: readonly string[];
  readonly written?: string;
};

interface Asked {
  readonly path: string;
  readonly from: string | null;
  readonly rounds: string | null;
  /** Lines that can be logged are, though others are refused. */
  readonly partly: boolean;
  readonly request: Request;
  readonly io: Io;
  readonly ready: (book: OpenBook) => OpenBook;
  readonly say: (lines: () => readonly string[], json: () => Many) => void;
}

/** Logs the jobs of a file, or what was typed into round sheets; nothing where a line is refused. */
export function logMany(asked: Asked): ExitCode {
  const { path, from, rounds, partly, request, io, ready, say } = asked;
  const target = targetOf(request, path);
  const progress = progressOn(io);
  const before = openBook(path, request, io, progress);
  const read = from === null ? roundsIn(rounds ?? path, before) : entryLines(textOfFile(from));
  const book = ready(before);
  const judged = logEntries(book.workbook.snapshot, book.reading, read.lines);
  const refused = [...read.refused, ...judged.refused];
  const isHeld = judged.logged.length === 0 || (refused.length > 0 && !partly);
  const { change } = judged;
  const plan = resultPlan(book.workbook.snapshot, book.reading, { ...change, today: io.today() });
  progress.step("logging");
  const after = isHeld ? before : refreshed(applied(book, plan, request, io), request, io);
  const { summary } = change;
  const written = isHeld
    ? [heldText(judged, refused.length)]
    : request.dryRun
      ? describePlan(plan)
      : writeBytes(after.bytes, { ...inputOf(before), summary, target, request, io });
  const notes = notesOf(judged, isHeld ? null : after);
  say(
    () => [...linesOf(judged, refused), ...notes, "", ...written],
    () => ({
      ...jsonOf(judged, refused, notes),
      ...(isHeld ? {} : request.dryRun ? { edits: written } : { written: target }),
    }),
  );
  if (refused.length > 0) return partly && !isHeld ? 1 : 2;
  return tellFaults(request.dryRun || isHeld ? after : { ...after, path: target }, io);
}

function roundsIn(path: string, book: OpenBook) {
  const { snapshot } = openWorkbook(readFile(path), { codec: NODE_CODEC });
  const found = roundLines(snapshot, book.reading.ours.parts);
  if (found.sheets.length > 0) return found;
  throw new UsageError(`${path} has no round sheet; make one with sparespan rounds`);
}

function heldText({ logged }: Entries, refused: number): string {
  if (refused === 0) return "Nothing new to log; nothing is written.";
  const more = logged.length === 0 ? "" : "; give --partly to log the others";
  return `${counted(refused, "line")} refused, so nothing is written${more}.`;
}

function linesOf({ logged, there }: Entries, refused: Many["refused"]): string[] {
  return [
    ...logged.map(placedText),
    ...there.map((one) => `Already there: ${placedText(one)}`),
    ...refused.map(({ where, why }) => `Refused: ${where}: ${why}`),
  ];
}

/** What each job says, and when the parts are due that begin anew. */
function notesOf({ logged }: Entries, after: OpenBook | null): string[] {
  const said = logged.flatMap(({ judged }) =>
    judged.notes.map((note) => `${judged.part.name} of ${judged.device.id}: ${note}`),
  );
  if (after === null) return said;
  const due = logged.flatMap(({ judged: { renews, device, part } }) => {
    if (!renews) return [];
    return judgedAgain(after.workbook.snapshot, after.reading, { device, part }).map((unit) => {
      const { due: date } = unit.row.answers;
      return `${unit.part.name} of ${device.id}: ${date === null ? "no due date" : `next due ${isoText(date)}`}.`;
    });
  });
  return [...new Set([...said, ...due])];
}

function jsonOf({ logged, there }: Entries, refused: Many["refused"], notes: string[]): Many {
  const line = ({ where, entry: { device, part, job, date } }: PlacedEntry) => {
    return { where, device, part, job, date: isoText(date) };
  };
  return { logged: logged.map(line), there: there.map(line), refused: [...refused], notes };
}
