import { join } from "node:path";
import { REPORT_DATE } from "../book/demo/programme.ts";
import { describePlan } from "../book/describe.ts";
import { todayOf } from "../book/today.ts";
import { applyPlan } from "../xlsx/index.ts";
import type { Wish } from "./arguments.ts";
import { planFor, writeDemo } from "./commands.ts";
import { freePath, writeFile } from "./files.ts";
import { type ExitCode, type Io, UsageError } from "./io.ts";
import { openBook } from "./open.ts";
import { progressOn } from "./progress.ts";
import { matchLines, todayLines } from "./report.ts";

const DEMO_FOLDER = join("build", "demo");

/**
 * The main job in one go: what is due, and a copy of the workbook with the columns. Without a
 * workbook, on the demonstration programme as of its own report date.
 */
export function start(wish: Wish, io: Io): ExitCode {
  const [, given, ...more] = wish.words;
  if (more.length > 0) throw new UsageError("start takes one workbook");
  const isDemo = given === undefined;
  const [demo] = isDemo ? writeDemo(DEMO_FOLDER, { ...wish, force: true }, io) : [];
  const path = given ?? demo ?? "";
  const asked = isDemo ? { ...wish, reportDate: wish.reportDate ?? REPORT_DATE } : wish;
  const progress = progressOn(io);
  const book = openBook(path, asked, io, progress);
  const plan = planFor(book, asked, io);
  progress.step("writing");
  const bytes = plan.edits.length === 0 ? book.bytes : applyPlan(book.workbook, plan);
  const words = "with columns";
  const target = isDemo ? path.replace("-clean", "-with-columns") : freePath(path, words);
  writeFile(bytes, { path: target, force: isDemo, inPlace: null, stamp: io.stamp() });
  const faults = book.reading.problems.filter(({ severity }) => severity === "fault").length;
  io.out(
    [
      ...(isDemo ? ["The demonstration programme (invented): Velloran Region."] : []),
      ...matchLines(book.reading),
      "",
      ...todayLines(todayOf(book.workbook.snapshot, book.reading)),
      "",
      `Written: ${target}`,
      `  ${describePlan(plan)[0] ?? ""}`,
      faults === 0
        ? "No faults in the rows."
        : `${faults} faults in the rows: npx sparesheet check "${path}"`,
      "",
    ].join("\n"),
  );
  return 0;
}
