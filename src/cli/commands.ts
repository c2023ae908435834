import { join, resolve } from "node:path";
import { mkdirSync } from "node:fs";
import { setupReportDate } from "../book/ours.ts";
import { isoText } from "../core/day.ts";
import { columnsPlan, writeBar } from "../book/columns-plan.ts";
import { demoBook, DEMO_SEED } from "../book/demo/workbook.ts";
import { describePlan } from "../book/describe.ts";
import { newRegisterPlan } from "../book/new-register.ts";
import type { Plan } from "../book/plan.ts";
import type { Problem } from "../book/records.ts";
import { sheetNamed } from "../book/snapshot.ts";
import { todayOf } from "../book/today.ts";
import { applyPlan, newWorkbook } from "../xlsx/index.ts";
import type { Wish } from "./arguments.ts";
import { NODE_CODEC, writeFile } from "./files.ts";
import { type ExitCode, type Io, UsageError } from "./io.ts";
import { problemsJson, registerJson, todayJson } from "./json.ts";
import { type OpenBook, openBook } from "./open.ts";
import { type Progress, progressOn } from "./progress.ts";
import { matchLines, problemLines, todayLines } from "./report.ts";

/** A command: what was asked and where to say the result; gives the exit code. */
export type Command = (wish: Wish, io: Io) => ExitCode;

function onlyWord(wish: Wish, what: string): string {
  const [, word, ...more] = wish.words;
  if (word === undefined) throw new UsageError(`say which ${what}, or see --help`);
  if (more.length > 0) throw new UsageError(`one ${what} at a time, got "${more[0] ?? ""}" too`);
  return word;
}

function say(io: Io, wish: Wish, lines: () => readonly string[], json: () => object): void {
  io.out(wish.json ? `${JSON.stringify(json(), null, 2)}\n` : `${lines().join("\n")}\n`);
}

const faults = (problems: readonly Problem[]): Problem[] =>
  problems.filter(({ severity }) => severity === "fault");

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
    () => todayLines(list),
    () => ({ ...todayJson(list), faults: wrong }),
  );
  if (wrong > 0) io.err(`${wrong} faults in the rows: npx sparesheet check "${book.path}"\n`);
  return wrong > 0 ? 1 : 0;
};

/** How the register was understood, and every problem with its cell, cause and fix. */
export const check: Command = (wish, io) => {
  const { reading } = openBook(onlyWord(wish, "workbook"), wish, io, progressOn(io));
  const wrong = faults(reading.problems).length;
  const total = `${wrong} faults, ${reading.problems.length - wrong} notices.`;
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
  const target = targetOf(wish, path);
  const book = openBook(path, wish, io, progress);
  progress.step("planning");
  const plan = planFor(book, wish, io);
  const wrong = faults(book.reading.problems).length;
  if (!wish.json) io.err(`${matchLines(book.reading).join("\n")}\n`);
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
  if (wrong > 0) io.err(`${wrong} faults in the rows: npx sparesheet check "${path}"\n`);
  return wrong > 0 ? 1 : 0;
};

function targetOf(wish: Wish, path: string): string {
  const { output, inPlace, dryRun } = wish;
  if (inPlace && output !== null) throw new UsageError("say either -o or --in-place, not both");
  if (!inPlace && output === null && !dryRun) {
    throw new UsageError("say where to write: -o OUT.xlsx, or --in-place");
  }
  if (output !== null && resolve(output) === resolve(path)) {
    throw new UsageError("-o names the workbook itself; say --in-place to change it");
  }
  return output ?? path;
}

/** The columns plan of an open book, refused where the sheet is filtered or protected. */
export function planFor(book: OpenBook, wish: Wish, io: Io): Plan {
  const { snapshot } = book.workbook;
  const sheet = sheetNamed(snapshot, book.reading.register.sheet);
  const bar = sheet && writeBar(sheet);
  if (bar !== null && !(wish.force && sheet?.protected === true && sheet.filter?.active !== true)) {
    throw new UsageError(bar);
  }
  if (book.reading.devices.length === 0) {
    throw new UsageError(
      `${book.reading.register.sheet} holds no device yet; fill in its rows first`,
    );
  }
  if (wish.mode === "live" && snapshot.dateSystem === 1904) {
    throw new UsageError("live columns need a workbook of the 1900 date system; use --as portable");
  }
  return columnsPlan(snapshot, book.reading, {
    mode: wish.mode,
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

interface Writing {
  readonly target: string;
  readonly wish: Wish;
  readonly progress: Progress;
  readonly io: Io;
}

function writePlan(book: OpenBook, plan: Plan, { target, wish, progress, io }: Writing): string[] {
  if (wish.inPlace && plan.edits.length === 0) return [`${target}: nothing to change`];
  progress.step("writing");
  const bytes = plan.edits.length === 0 ? book.bytes : applyPlan(book.workbook, plan);
  const copy = writeFile(bytes, {
    path: target,
    force: wish.force,
    inPlace: wish.inPlace ? book.bytes : null,
    stamp: io.stamp(),
  });
  return [`${target}: ${plan.summary}`, ...(copy === null ? [] : [`The book as it was: ${copy}`])];
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
