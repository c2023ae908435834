import { columnsPlan } from "../book/columns/columns-plan.ts";
import { modeOf } from "../book/columns/mode.ts";
import type { Request } from "./arguments.ts";
import type { Io } from "./io.ts";
import { applied, type OpenBook } from "./open.ts";

/** Computed columns that are there say what holds after a job. */
export function refreshed(book: OpenBook, request: Request, io: Io): OpenBook {
  const { snapshot } = book.workbook;
  const mode = modeOf(snapshot, book.reading);
  if (mode === null) return book;
  const plan = columnsPlan(snapshot, book.reading, { mode, today: io.today(), force: false });
  return plan.edits.length === 0 ? book : applied(book, plan, request, io);
}
