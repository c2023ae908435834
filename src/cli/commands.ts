import { join } from "node:path";
import { mkdirSync } from "node:fs";
import { setupReportDate } from "../book/sheets/ours.ts";
import { isoText } from "../core/day.ts";
import type { Mode } from "../book/columns/columns.ts";
import { columnsPlan, writeBar } from "../book/columns/columns-plan.ts";
import { demoBook, DEMO_SEED } from "../book/demo/workbook.ts";
import { describePlan } from "../book/workbook/describe.ts";
import { undatedParts } from "../book/reading/missing-columns.ts";
import { newRegisterPlan } from "../book/sheets/new-register.ts";
import type { Plan } from "../book/workbook/plan.ts";
import { counted } from "../book/records/problems.ts";
import { sheetNamed } from "../book/workbook/snapshot.ts";
import { todayOf } from "../book/day/today.ts";
import { newWorkbook } from "../xlsx/index.ts";
import { oneOf, type Wish } from "./arguments.ts";
import { NODE_CODEC, writeFile } from "./files.ts";
import { type Io, UsageError } from "./io.ts";
import { type Command, faults, onlyWord, say, targetOf, tellFaults, writePlan } from "./job.ts";
import { problemsJson, registerJson, todayJson } from "./json.ts";
import { needDevices, type OpenBook, openBook } from "./open.ts";
import { progressOn } from "./progress.ts";
import { matchLines, problemLines, todayLines } from "./report.ts";
import { linesText } from "./shown.ts";

const MODES: readonly Mode[] = ["portable", "live", "values"];

function modeOf(wish: Wish): Mode {
  return oneOf("as", wish.text("as") ?? "portable", MODES);
}

/** What is overdue, to check and due soon, worst first. */
export const today: Command = (wish, io) => {
  const book = openBook(onlyWord(wish, "workbook"), wish, io, progressOn(io));
  const list = todayOf(book.workbook.snapshot, book.reading);
  const wrong = faults(book.reading.problems).length;
  const own = setupReportDate(book.workbook.snapshot, list.reportDate);
  if (own !== null && own !== list.reportDate) {
    io.err(`The workbook itself is judged on ${isoText(own)} (Setup); columns sets it anew.\n`);
  }
  say(
    io,
    wish,
    () => todayLines(list, undatedParts(book.workbook.snapshot, book.reading)),
    () => ({ ...todayJson(list), faults: wrong }),
  );
  return tellFaults(book, io);
};

/** How the register was understood, and every problem with its cell, cause and fix. */
export const check: Command = (wish, io) => {
  const { reading } = openBook(onlyWord(wish, "workbook"), wish, io, progressOn(io));
  const wrong = faults(reading.problems).length;
  const total = `${counted(wrong, "fault")}, ${counted(reading.problems.length - wrong, "notice")}.`;
  say(
    io,
    wish,
    () => [...matchLines(reading), "", ...problemLines(reading.problems), total],
    () => ({ register: registerJson(reading), problems: problemsJson(reading.problems) }),
  );
  return wrong > 0 ? 1 : 0;
};

/** The computed columns, our sheets, and everything else untouched. */
export const columns: Command = (wish, io) => {
  const path = onlyWord(wish, "workbook");
  const progress = progressOn(io);
  modeOf(wish);
  const target = targetOf(wish, path);
  const book = openBook(path, wish, io, progress);
  progress.step("planning");
  const plan = planFor(book, wish, io);
  if (!wish.json) io.err(linesText(matchLines(book.reading)));
  if (wish.dryRun)
    say(
      io,
      wish,
      () => describePlan(plan),
      () => planJson(plan, book),
    );
  else {
    const written = writePlan(book, plan, { target, wish, progress, io });
    say(
      io,
      wish,
      () => written,
      () => ({ ...planJson(plan, book), written: target }),
    );
  }
  return tellFaults(book, io);
};

/** The columns plan of an open book, refused where the sheet is filtered or protected. */
export function planFor(book: OpenBook, wish: Wish, io: Io): Plan {
  const { snapshot } = book.workbook;
  const sheet = sheetNamed(snapshot, book.reading.register.sheet);
  const bar = sheet && writeBar(sheet);
  if (bar !== null && !(wish.force && sheet?.protected === true && sheet.filter?.active !== true)) {
    throw new UsageError(bar);
  }
  needDevices(book);
  const mode = modeOf(wish);
  if (mode === "live" && snapshot.dateSystem === 1904) {
    throw new UsageError("live columns need a workbook of the 1900 date system; use --as portable");
  }
  return columnsPlan(snapshot, book.reading, {
    mode,
    today: io.today(),
    force: wish.force,
  });
}

function planJson(plan: Plan, { reading }: OpenBook): object {
  const [summary, ...edits] = describePlan(plan);
  return {
    summary,
    edits,
    register: registerJson(reading),
    problems: problemsJson(reading.problems),
  };
}

/** An empty register with headings, choices and date limits, for a programme that has no sheet yet. */
export const fresh: Command = (wish, io) => {
  const path = onlyWord(wish, "file name");
  const plan = newRegisterPlan(wish.reportDate ?? io.today(), io.today());
  if (wish.dryRun)
    say(
      io,
      wish,
      () => describePlan(plan),
      () => ({ edits: describePlan(plan) }),
    );
  else {
    writeNew(path, plan, wish, io);
    say(
      io,
      wish,
      () => [`${path}: ${plan.summary}`],
      () => ({ written: path }),
    );
  }
  return 0;
};

function writeNew(path: string, plan: Plan, { force }: Wish, io: Io): void {
  const bytes = newWorkbook(plan, { codec: NODE_CODEC });
  writeFile(bytes, { path, force, inPlace: null, stamp: io.stamp() });
}

/** Writes the demonstration programme: a clean book, an untidy one and what is wrong in it. */
export const demo: Command = (wish, io) => {
  const folder = onlyWord(wish, "folder");
  const written = writeDemo(folder, wish, io);
  say(
    io,
    wish,
    () => written,
    () => ({ written }),
  );
  return 0;
};

/** The demonstration's files; gives their paths, the clean book first. */
export function writeDemo(folder: string, wish: Wish, io: Io): string[] {
  mkdirSync(folder, { recursive: true });
  const name = (words: string): string => join(folder, `velloran-${DEMO_SEED}-${words}`);
  const untidy = demoBook(DEMO_SEED, true);
  const paths = [name("clean.xlsx"), name("untidy.xlsx"), name("untidy-answers.json")] as const;
  writeNew(paths[0], demoBook(DEMO_SEED, false).plan, wish, io);
  writeNew(paths[1], untidy.plan, wish, io);
  writeFile(Buffer.from(`${JSON.stringify(untidy.answers, null, 2)}\n`), {
    path: paths[2],
    force: wish.force,
    inPlace: null,
    stamp: io.stamp(),
  });
  return [...paths];
}
