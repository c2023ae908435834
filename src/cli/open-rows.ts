import { matcherFor } from "../book/headings/match.ts";
import { eventSheet } from "../book/headings/no-register.ts";
import { beginWorkbook } from "../book/reading/begin-workbook.ts";
import { EVERYTHING } from "../book/reading/workbook.ts";
import { partSheets } from "../book/reading/register/part-sheets.ts";
import { chosenRegisters, registerKey } from "../book/records/registers.ts";
import { readOurs } from "../book/sheets/ours.ts";
import { pagesOf } from "../book/workbook/cells.ts";
import { BookError } from "../book/workbook/errors.ts";
import { finished } from "../book/workbook/steps.ts";
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
    const book = openBook(from, request, io, progressOn(io));
    const sheets = sheetsOfParts(book, request, io);
    if (sheets.length === 0) return book;
    const registers = sheets.map((sheet, at): [string, string] => [registerKey(at), sheet]);
    return openBook(from, chosen(request, registers), io, progressOn(io));
  } catch (error) {
    if (!(error instanceof BookError) || chosenRegisters(request.matches).length > 0) throw error;
    const { snapshot } = openWorkbook(readFile(from), {
      codec: NODE_CODEC,
      limits: memoryLimits(),
    });
    const { parts } = readOurs(snapshot, io.today()).ours;
    const events = eventSheet(pagesOf(snapshot), matcherFor(parts));
    if (events === null) throw error;
    const said: [string, string][] = [
      ["register", events.sheet],
      ["column device", events.device],
    ];
    return openBook(from, chosen(request, said), io, progressOn(io));
  }
}

function chosen(request: Request, said: readonly [string, string][]): Request {
  return { ...request, matches: new Map([...request.matches, ...said]) };
}

/** Sheets of the same devices with dates of one part each, where nobody has said which sheets are registers. */
function sheetsOfParts({ workbook, reading }: OpenBook, request: Request, io: Io): string[] {
  if (chosenRegisters(request.matches).length > 0) return [];
  const overrides = { reportDate: request.reportDate ?? io.today(), matches: request.matches };
  const begun = finished(beginWorkbook(workbook.snapshot, io.today(), overrides, EVERYTHING));
  return partSheets(begun.search, reading.ours.parts);
}
