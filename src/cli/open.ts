import { readBook } from "../book/read.ts";
import { type Overrides, readOurs } from "../book/ours.ts";
import type { Reading } from "../book/records.ts";
import { type OpenWorkbook, openWorkbook } from "../xlsx/index.ts";
import type { Wish } from "./arguments.ts";
import { NODE_CODEC, readFile } from "./files.ts";
import type { Io } from "./io.ts";
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
export function openBook(path: string, wish: Wish, io: Io, progress: Progress): OpenBook {
  progress.step(`reading ${path}`);
  const bytes = readFile(path);
  const workbook = openWorkbook(bytes, { codec: NODE_CODEC });
  progress.step("checking rows");
  const overrides: Overrides = {
    reportDate: wish.reportDate ?? io.today(),
    matches: wish.matches,
    ...(wish.dayOrder === null ? {} : { dayOrder: wish.dayOrder }),
  };
  const { ours, problems } = readOurs(workbook.snapshot, io.today(), overrides);
  const reading = readBook(workbook.snapshot, ours);
  return {
    path,
    bytes,
    workbook,
    reading: { ...reading, problems: [...problems, ...reading.problems] },
  };
}
