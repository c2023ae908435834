import { join } from "node:path";
import { REPORT_DATE } from "../book/demo/programme.ts";
import { describePlan } from "../book/workbook/describe.ts";
import { undatedParts } from "../book/reading/missing-columns.ts";
import { counted } from "../book/records/problems.ts";
import { todayOf } from "../book/day/today.ts";
import type { Wish } from "./arguments.ts";
import { planFor, writeDemo } from "./commands.ts";
import { freePath, writeFile } from "./files.ts";
import { type ExitCode, type Io, UsageError } from "./io.ts";
import { bytesAfter, openBook } from "./open.ts";
import { progressOn } from "./progress.ts";
import { serve, type Serving, type Site } from "./serve.ts";
import { shelfFor } from "./serve-book.ts";
import { openInBrowser, pageFolder } from "./serve-page.ts";
import { matchLines, todayLines } from "./report.ts";
import { linesText } from "./shown.ts";

const DEMO_FOLDER = join("build", "demo");

/**
 * The main job in one go: what is due, and a copy of the workbook with the columns; then the workbench.
 * Without a workbook, on the demonstration programme as of its own report date.
 */
export async function start(wish: Wish, io: Io): Promise<ExitCode> {
  const [, given, ...more] = wish.words;
  if (more.length > 0) throw new UsageError("start takes one workbook");
  const port = portOf(wish);
  summarise(given, wish, io);
  if (!wish.flag("once") && io.stopped !== undefined) {
    await work(given ?? null, port, { wish, io, stopped: io.stopped });
  }
  return 0;
}

/** Where the workbench is looked for; the browser remembers there that the guide was read. */
const PORT = 4780;

function portOf(wish: Wish): number | null {
  const said = wish.text("port");
  if (said === null) return null;
  if (/^\d{1,5}$/.test(said) && Number(said) <= 65535) return Number(said);
  throw new UsageError(`--port must be a number from 0 to 65535, got "${said}"`);
}

/** Serves the workbench until somebody stops it. */
async function work(
  path: string | null,
  port: number | null,
  { wish, io, stopped }: { wish: Wish; io: Io; stopped: () => Promise<void> },
): Promise<void> {
  const book = path === null ? null : shelfFor(path, io.stamp);
  const folder = pageFolder(io);
  if (folder === null) {
    io.err("The workbench's page is not here: it is served from a clone of the project.\n");
    return;
  }
  const serving = await served({ folder, book }, port);
  io.out(`The workbench: ${serving.address}\n  Ctrl-C stops it.\n`);
  if (!wish.flag("no-open")) openInBrowser(serving.address);
  await stopped();
  await serving.stop();
  io.err("The workbench is stopped.\n");
}

/** A port that was asked for must be free; without one any will do. */
async function served(site: Site, port: number | null): Promise<Serving> {
  try {
    return await serve(site, port ?? PORT);
  } catch (error) {
    const isTaken = error instanceof Error && "code" in error && error.code === "EADDRINUSE";
    if (!isTaken) throw error;
    if (port === null) return serve(site, 0);
    throw new UsageError(`port ${port} is used by another program: choose another with --port`);
  }
}

/** Prints what is due and writes the copy with the columns. */
function summarise(given: string | undefined, wish: Wish, io: Io): void {
  const isDemo = given === undefined;
  const [demo] = isDemo ? writeDemo(DEMO_FOLDER, { ...wish, force: true }, io) : [];
  const path = given ?? demo ?? "";
  const asked = isDemo ? { ...wish, reportDate: wish.reportDate ?? REPORT_DATE } : wish;
  const progress = progressOn(io);
  const book = openBook(path, asked, io, progress);
  const plan = planFor(book, asked, io);
  progress.step("writing");
  const bytes = plan.edits.length === 0 ? book.bytes : bytesAfter(book, plan, asked);
  const words = "with columns";
  const target = isDemo ? path.replace("-clean", "-with-columns") : freePath(path, words);
  writeFile(bytes, { path: target, force: isDemo, inPlace: null, stamp: io.stamp() });
  const { snapshot } = book.workbook;
  const faults = book.reading.problems.filter(({ severity }) => severity === "fault").length;
  io.out(
    linesText([
      ...(isDemo ? ["The demonstration programme (invented): Velloran Region."] : []),
      ...matchLines(book.reading),
      "",
      ...todayLines(todayOf(snapshot, book.reading), undatedParts(snapshot, book.reading)),
      "",
      `Written: ${target}`,
      `  ${describePlan(plan)[0] ?? ""}`,
      faults === 0
        ? "No faults in the rows."
        : `${counted(faults, "fault")} in the rows: npx sparespan check "${path}"`,
    ]),
  );
}
