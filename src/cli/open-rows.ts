import { matcherFor } from "../book/headings/match.ts";
import { eventSheet } from "../book/headings/no-register.ts";
import { chosenRegisters } from "../book/records/registers.ts";
import { readOurs } from "../book/sheets/ours.ts";
import { pagesOf } from "../book/workbook/cells.ts";
import { BookError } from "../book/workbook/errors.ts";
import { openWorkbook } from "../xlsx/index.ts";
import type { Request } from "./arguments.ts";
import { NODE_CODEC, readFile } from "./files.ts";
import type { Io } from "./io.ts";
import { memoryLimits } from "./memory.ts";
import { type OpenBook, openBook } from "./open.ts";
import { progressOn } from "./progress.ts";

/** The book of the rows; of a list of events alone it is said which sheet and column has its devices. */
export function openRows(from: string, request: Request, io: Io): OpenBook {
  try {
    return openBook(from, request, io, progressOn(io));
  } catch (error) {
    if (!(error instanceof BookError) || chosenRegisters(request.matches).length > 0) throw error;
    const { snapshot } = openWorkbook(readFile(from), {
      codec: NODE_CODEC,
      limits: memoryLimits(),
    });
    const { parts } = readOurs(snapshot, io.today()).ours;
    const events = eventSheet(pagesOf(snapshot), matcherFor(parts));
    if (events === null) throw error;
    const chosen = [
      ...request.matches,
      ["register", events.sheet],
      ["column device", events.device],
    ];
    return openBook(
      from,
      { ...request, matches: new Map(chosen as [string, string][]) },
      io,
      progressOn(io),
    );
  }
}
