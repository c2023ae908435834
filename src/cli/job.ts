import { type Change, resultPlan } from "../book/sheets/result-plan.ts";
import type { Plan } from "../book/workbook/plan.ts";
import type { Problem } from "../book/records/records.ts";
import type { Request } from "./arguments.ts";
import type { Asked } from "./command.ts";
import type { Options } from "./option.ts";
import { bookEnding, newWorkbook } from "../xlsx/index.ts";
import { isSameFile } from "./place.ts";
import { NODE_CODEC, writeFile } from "./files.ts";
import { type ExitCode, type Io, UsageError } from "./io.ts";
import { bytesAfter, type OpenBook, openBook } from "./open.ts";
import { type Progress, progressOn } from "./progress.ts";
import { describePlan } from "../book/workbook/describe.ts";
import { doubtsSay, doubtTexts } from "../book/records/doubts.ts";
import { counted } from "../book/records/problems.ts";

/** The problems that make rows wrong. */
export function faults(problems: readonly Problem[]): Problem[] {
  return problems.filter(({ severity }) => severity === "fault");
}

/** Writes a book that was not there before. */
export function writeNew(path: string, plan: Plan, { force }: Request): void {
  const bytes = newWorkbook(plan, { codec: NODE_CODEC });
  writeFile(bytes, { path, ending: ".xlsx", force, inPlace: null });
}

/** Where a command that must write is to write. */
export function targetOf(request: Request, path: string): string {
  const { output, inPlace, dryRun } = request;
  if (inPlace && output !== null) throw new UsageError("give either -o or --in-place, not both");
  if (!inPlace && output === null && !dryRun) {
    throw new UsageError("give somewhere to write: -o OUT.xlsx, or --in-place");
  }
  if (output !== null && isSameFile(output, path)) {
    throw new UsageError("-o names the workbook itself; give --in-place to change it");
  }
  return output ?? path;
}

interface Writing {
  readonly target: string;
  readonly request: Request;
  readonly progress: Progress;
  readonly io: Io;
}

/** Applies a plan and writes the book; gives what was done, as lines. */
export function writePlan(
  book: OpenBook,
  plan: Plan,
  { target, request, progress, io }: Writing,
): string[] {
  if (request.inPlace && plan.edits.length === 0) return [`${target}: nothing to change`];
  progress.step("writing");
  const bytes = plan.edits.length === 0 ? book.bytes : bytesAfter(book, plan, request);
  const { summary } = plan;
  return writeBytes(bytes, { ...inputOf(book), summary, target, request, io });
}

interface Written {
  /** The book's bytes as they were read: changed in place, they are kept as a dated copy. */
  readonly read: Uint8Array;
  /** The ending what is written must have. */
  readonly ending: string;
  readonly summary: string;
  readonly target: string;
  readonly request: Request;
  readonly io: Io;
}

/** Writes the bytes of a changed book; gives what was done, as lines. */
export function writeBytes(bytes: Uint8Array, written: Written): string[] {
  const { read, ending, summary, target, request, io } = written;
  const { command, force, inPlace } = request;
  const kept = writeFile(bytes, {
    path: target,
    ending,
    force,
    inPlace: inPlace ? { read, command, today: io.today() } : null,
  });
  if (kept === null) return [`${target}: ${summary}`];
  const which = kept.isNew ? "The book as it was" : `The book before today's first ${command}`;
  return [`${target}: ${summary}`, `${which}: ${kept.path}`];
}

/** What writing a changed book goes by. */
export function inputOf({ bytes, workbook }: OpenBook): Pick<Written, "read" | "ending"> {
  return { read: bytes, ending: bookEnding(workbook) };
}

/** What a job on a workbook gives: the result for people and for machines, and what writing it changes. */
export interface Outcome<J> {
  readonly lines: readonly string[];
  readonly json: J;
  readonly change: Change;
}

/** What a job adds to its result: cells it doubts, what --dry-run would do, or the file it wrote. */
interface Done {
  readonly doubts?: readonly string[] | undefined;
  readonly edits?: readonly string[] | undefined;
  readonly written?: string | undefined;
}

/**
 * Runs a job on a workbook. Without -o or --in-place its result is only said; with them the book is
 * written too.
 */
export function runJob<J extends object>(
  path: string,
  { request, io, say }: Pick<Asked<unknown, Options, J & Done>, "request" | "io" | "say">,
  work: (book: OpenBook) => Outcome<J>,
): ExitCode {
  const progress = progressOn(io);
  const writes = request.output !== null || request.inPlace;
  const target = writes ? targetOf(request, path) : null;
  const book = openBook(path, request, io, progress);
  progress.step("calculating");
  const { lines, json, change } = work(book);
  // What is only said needs no sheets.
  const plan =
    target === null && !request.dryRun
      ? null
      : resultPlan(book.workbook.snapshot, book.reading, { ...change, today: io.today() });
  const planned = plan !== null && request.dryRun ? describePlan(plan) : [];
  const written =
    plan === null || target === null || request.dryRun
      ? []
      : writePlan(book, plan, { target, request, progress, io });
  const after = [...planned, ...written];
  doubtFirst(book, say)(
    () => (after.length === 0 ? lines : [...lines, "", ...after]),
    () => ({
      ...json,
      ...(request.dryRun ? { edits: planned } : {}),
      ...(written.length > 0 && target !== null ? { written: target } : {}),
    }),
  );
  return tellFaults(book, io);
}

/** What says a result, the cells it had to doubt before it: in words to people, as a list to programs. */
export function doubtFirst<J extends { readonly doubts?: readonly string[] | undefined }>(
  { reading }: OpenBook,
  say: Asked<unknown, Options, J>["say"],
): Asked<unknown, Options, J>["say"] {
  const doubts = doubtTexts(reading);
  return (lines, json) => {
    say(
      () => [...doubtsSay(reading), ...lines()],
      () => ({ ...json(), ...(doubts.length === 0 ? {} : { doubts }) }),
    );
  };
}

/** Says how many rows have faults; gives the exit code. */
export function tellFaults({ path, reading }: OpenBook, io: Io): ExitCode {
  const wrong = faults(reading.problems).length;
  if (wrong > 0) io.err(`${counted(wrong, "fault")} in the rows: npx sparespan check "${path}"\n`);
  return wrong > 0 ? 1 : 0;
}
