import { z } from "zod";
import { basename } from "node:path";
import { type Copy, copyPlan } from "../../book/share/copy.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import { applyPlan, openWorkbook, partsHolding, withoutPanes } from "../../xlsx/index.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { NODE_CODEC } from "../files.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { inputOf, tellFaults, writeBytes } from "../job.ts";
import { type OpenBook, openBook } from "../open.ts";
import { flag } from "../option.ts";
import { type Progress, progressOn } from "../progress.ts";
import { jobResult, list } from "../result.ts";
import { ADD_IN, endingOf, shareTarget } from "../share.ts";

/** How a call of our functions, or the add-in itself, shows in the parts of a file. */
const TRACES = new RegExp(`_xldudf_spare_|${ADD_IN}`, "i");

const RESULT = jobResult({
  columns: z.enum(["portable", "values"]).nullable(),
  fixed: list(z.string()),
  unanswered: list(z.string()),
});

const OPTIONS = { values: flag("our columns as values, not as native formulas") };

/** A copy of the whole book that needs no add-in. */
export const shareCopy = command({
  name: "share copy",
  moment: "The year",
  brief: "a copy of the workbook that needs no add-in",
  about: `The whole workbook without the add-in: our columns as native formulas, or as values with --values; other
calls of the add-in become the values they last showed. The sheet Read first says what the copy is.`,
  words: BOOK,
  writes: "-o OUT.xlsx",
  common: ["json"],
  examples: ["share copy equipment.xlsx -o for-the-region.xlsx"],
  options: OPTIONS,
  result: RESULT,
  run: writeCopy,
});

function writeCopy(asked: Asked<string, typeof OPTIONS, z.infer<typeof RESULT>>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  const target = shareTarget(request, path, { named: [".xlsx", ".xlsm"], taken: [endingOf(path)] });
  const progress = progressOn(io);
  const book = openBook(path, request, io, progress);
  progress.step("making the copy");
  const copy = copyPlan(book.workbook.snapshot, book.reading, {
    values: given.values,
    book: basename(path),
    today: io.today(),
  });
  const bytes = copyBytes(book, copy, progress);
  const { summary } = copy.plan;
  const written =
    target === null || request.dryRun
      ? describePlan(copy.plan)
      : writeBytes(bytes, { ...inputOf(book), summary, target, request, io });
  say(
    () => [...copyLines(copy), ...written],
    () => ({
      columns: copy.columns,
      fixed: copy.fixed,
      unanswered: copy.unanswered,
      ...(target === null || request.dryRun ? { edits: written } : { written: target }),
    }),
  );
  return tellFaults(book, io);
}

/** The copy's bytes, refused when anything in them would still lead to the add-in. */
function copyBytes(book: OpenBook, { plan }: Copy, progress: Progress): Uint8Array {
  const options = { codec: NODE_CODEC };
  const changed = applyPlan(book.workbook, plan);
  progress.step("looking for what is left of the add-in");
  const open = openWorkbook(changed, options);
  const cleared = withoutPanes(open, ADD_IN);
  const left = partsHolding(cleared === null ? open : openWorkbook(cleared, options), TRACES);
  if (left.length === 0) return cleared ?? changed;
  throw new UsageError(
    `no copy was made: the add-in would still be called from ${left.join(", ")} in the file; remove these calls in your spreadsheet program first`,
  );
}

function copyLines({ columns, fixed, unanswered }: Copy): string[] {
  return [
    columns === null
      ? "The register has none of our columns."
      : `Computed columns: ${columns === "portable" ? "native formulas" : "values"}.`,
    fixed.length === 0
      ? "No other cell called the add-in."
      : `Calls of the add-in now values: ${fixed.join(", ")}.`,
    ...(unanswered.length === 0
      ? []
      : [
          `The add-in had not answered in these cells, which now show an error: ${unanswered.join(", ")}.`,
        ]),
    "",
  ];
}
