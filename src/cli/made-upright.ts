import { upright } from "../book/headings/upright.ts";
import { uprightPlan } from "../book/columns/upright-cells.ts";
import { matcherFor } from "../book/headings/match.ts";
import { chosenRegisters } from "../book/records/registers.ts";
import { readOurs } from "../book/sheets/ours.ts";
import { pagesOf } from "../book/workbook/cells.ts";
import { BookError } from "../book/workbook/errors.ts";
import { protectedIn } from "../book/workbook/expect.ts";
import { applyPlan, openWorkbook } from "../xlsx/index.ts";
import type { Request } from "./arguments.ts";
import { NODE_CODEC, readFile } from "./files.ts";
import { type Io, UsageError } from "./io.ts";
import { finishedBook, type MadeBook } from "./made-by-rows.ts";
import { memoryLimits } from "./memory.ts";
import { bookOf } from "./open.ts";

/**
 * A workbook without a register, whose devices stand in columns, on cards or in tables side by side, with a register
 * beside them that has a row for each device; null where its sheets are of no such shape.
 */
export function madeUpright(
  { from, path }: { readonly from: string; readonly path: string },
  request: Request,
  io: Io,
): MadeBook | null {
  if (chosenRegisters(request.matches).length > 0) return null;
  const before = readFile(from);
  const workbook = openWorkbook(before, { codec: NODE_CODEC, limits: memoryLimits() });
  const { snapshot } = workbook;
  const { parts } = readOurs(snapshot, io.today()).ours;
  const found = upright(pagesOf(snapshot), matcherFor(parts));
  if (found === null || hasRegister({ path: from, bytes: before }, request, io)) return null;
  const { plan, sheet, told } = uprightPlan(snapshot, found);
  const [bar] = request.force ? [] : protectedIn(snapshot, plan);
  if (bar !== undefined) throw new UsageError(`${bar}, or give --force`);
  const { summary } = plan;
  const bytes = applyPlan(workbook, plan);
  const madeFrom = found.pages.map((page) => page.sheet.name);
  const book = finishedBook({ path, bytes, sheet, madeFrom, summary }, request, io);
  return { book, lines: [`${summary}.`, ...told] };
}

function hasRegister(
  { path, bytes }: { readonly path: string; readonly bytes: Uint8Array },
  request: Request,
  io: Io,
): boolean {
  try {
    bookOf(path, bytes, request, io);
    return true;
  } catch (error) {
    if (error instanceof BookError) return false;
    throw error;
  }
}
