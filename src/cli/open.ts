import { registerNames } from "../book/records/registers.ts";
import { protectedIn } from "../book/workbook/expect.ts";
import { fieldsFor } from "../book/headings/fields.ts";
import { listed } from "../book/records/problems.ts";
import type { Overrides } from "../book/sheets/ours.ts";
import type { Plan } from "../book/workbook/plan.ts";
import type { Reading } from "../book/records/records.ts";
import { readWorkbook } from "../book/reading/workbook.ts";
import { applyPlan, type OpenWorkbook, openWorkbook } from "../xlsx/index.ts";
import type { Request } from "./arguments.ts";
import { NODE_CODEC, readFile } from "./files.ts";
import { type Io, UsageError } from "./io.ts";
import { memoryLimits } from "./memory.ts";
import type { Progress } from "./progress.ts";

/** A workbook file opened and read. */
export interface OpenBook {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly workbook: OpenWorkbook;
  readonly reading: Reading;
}

/**
 * Opens a workbook file and reads its register. It is judged on the day said with --report-date, else
 * on the day of the calendar: a date left in Setup must never hide what has become due since.
 */
export function openBook(path: string, request: Request, io: Io, progress: Progress): OpenBook {
  progress.step(`reading ${path}`);
  const bytes = readFile(path);
  progress.step("checking rows");
  return bookOf(path, bytes, request, io);
}

/** Refuses a book whose register is still empty. */
export function needDevices({ reading }: OpenBook): void {
  if (reading.devices.length > 0) return;
  throw new UsageError(
    `${registerNames(reading)} ${reading.registers.length === 1 ? "holds no devices yet; fill in its rows first" : "hold no devices yet; fill in their rows first"}`,
  );
}

/** The bytes of a book after a plan; a sheet somebody protected is written into with --force only. */
export function bytesAfter({ workbook }: OpenBook, plan: Plan, { force }: Request): Uint8Array {
  const [bar] = force ? [] : protectedIn(workbook.snapshot, plan);
  if (bar !== undefined) throw new UsageError(`${bar}, or give --force`);
  return applyPlan(workbook, plan);
}

/** The book after a plan, read anew: what a second step has to go by. */
export function applied(book: OpenBook, plan: Plan, request: Request, io: Io): OpenBook {
  return bookOf(book.path, bytesAfter(book, plan, request), request, io);
}

/** A workbook's bytes, opened and read. */
export function bookOf(path: string, bytes: Uint8Array, request: Request, io: Io): OpenBook {
  const workbook = openWorkbook(bytes, { codec: NODE_CODEC, limits: memoryLimits() });
  const overrides: Overrides = {
    reportDate: request.reportDate ?? io.today(),
    matches: request.matches,
    ...(request.dayOrder === null ? {} : { dayOrder: request.dayOrder }),
  };
  const reading = readWorkbook(workbook.snapshot, io.today(), overrides);
  checkFields(request, reading);
  return { path, bytes, workbook, reading };
}

/** A choice for a field that does not exist would be a choice ignored. */
function checkFields({ matches }: Request, { ours, problems }: Reading): void {
  // A heading that is not there would be a choice ignored, and another column guessed in its place.
  const missing = problems.find(({ kind }) => kind === "chosen column missing");
  if (matches.size > 0 && missing !== undefined) throw new UsageError(missing.cause);
  const fields = fieldsFor(ours.parts).map(({ key }) => key.toLowerCase());
  for (const match of matches.keys()) {
    const field = match.replace(/^column /, "");
    if (field === match || fields.includes(field.toLowerCase())) continue;
    const names = fieldsFor(ours.parts).map(({ key }) => key);
    throw new UsageError(
      `--match must begin with one of ${listed(names, names.length)}, got "${field}"`,
    );
  }
}
