import { join } from "node:path";
import { REPORT_DATE } from "../../book/demo/programme.ts";
import { describePlan } from "../../book/workbook/describe.ts";
import { undatedParts } from "../../book/reading/unread/missing-columns.ts";
import { counted } from "../../book/records/problems.ts";
import { todayOf } from "../../book/day/today.ts";
import { type Asked, command, type Words } from "../command.ts";
import { AS, planFor } from "./columns.ts";
import { writeDemo } from "./demo.ts";
import { bookEnding } from "../../xlsx/index.ts";
import { freePath, writeFile } from "../files.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { bytesAfter, openBook } from "../open.ts";
import { flag, one } from "../option.ts";
import { progressOn } from "../progress.ts";
import { serve, type Serving, type Site } from "../serve.ts";
import { shelfFor } from "../serve-book.ts";
import { openInBrowser, pageFolder } from "../serve-page.ts";
import { besideLists, registersFound, todayLines } from "../report.ts";
import { linesText } from "../shown.ts";

const DEMO_FOLDER = join("build", "demo");

/** The workbook, or none. */
const MAYBE_BOOK: Words<string | null> = {
  shows: "[BOOK]",
  read([book = null, ...more]) {
    if (more.length > 0) throw new UsageError("start takes one workbook");
    return book;
  },
};

const OPTIONS = {
  as: AS,
  once: flag("only the summary and the copy"),
  port: one("PORT", "where the workbench is served; 0 takes any free port", portOf),
  "no-open": flag("print its address, but do not open a browser"),
};

type Given = Asked<string | null, typeof OPTIONS, never>;

/**
 * The main job in one go: what is due, and a copy of the workbook with the columns; then the workbench.
 * Without a workbook, on the demonstration programme as of its own report date.
 */
export const start = command({
  name: "start",
  moment: "The book",
  brief: "today and columns in one go, then the workbench",
  about: `Prints what is due and writes a copy of the workbook with the columns; without a workbook, it uses the
demonstration programme. Then serves the workbench on this machine until Ctrl-C: the workbook in a
grid beside the pane. Saving there changes BOOK and keeps a dated copy of it as it was.`,
  words: MAYBE_BOOK,
  writes: "",
  common: [],
  examples: ["start equipment.xlsx", "start equipment.xlsx --once"],
  options: OPTIONS,
  result: null,
  async run(asked): Promise<ExitCode> {
    const { io } = asked;
    summarise(asked);
    if (!asked.given.once && io.stopped !== undefined) await work(asked, io.stopped);
    return 0;
  },
});

/** Where the workbench is looked for; the browser remembers there that the guide was read. */
const PORT = 4780;

function portOf(said: string): number {
  if (/^\d{1,5}$/.test(said) && Number(said) <= 65535) return Number(said);
  throw new UsageError(`--port must be a number from 0 to 65535, got "${said}"`);
}

/** Serves the workbench until somebody stops it. */
async function work(
  { words: path, given, io }: Given,
  stopped: () => Promise<void>,
): Promise<void> {
  const book = path === null ? null : shelfFor(path, io.today);
  const folder = pageFolder(io);
  if (folder === null) {
    io.err("The workbench's page is not here: it is only served from a clone of the project.\n");
    return;
  }
  const serving = await served({ folder, book }, given.port);
  io.out(`The workbench: ${serving.address}\n  Ctrl-C stops it.\n`);
  if (!given["no-open"]) openInBrowser(serving.address);
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
    throw new UsageError(`port ${port} is in use by another program: choose another with --port`);
  }
}

/** Prints what is due and writes the copy with the columns. */
function summarise({ words: said, given, request, io }: Given): void {
  const isDemo = said === null;
  const [demo] = isDemo ? writeDemo(DEMO_FOLDER, { ...request, force: true }) : [];
  const path = said ?? demo ?? "";
  const asked = isDemo ? { ...request, reportDate: request.reportDate ?? REPORT_DATE } : request;
  const progress = progressOn(io);
  const book = openBook(path, asked, io, progress);
  const plan = planFor(book, given.as, asked, io);
  progress.step("writing");
  const bytes = plan.edits.length === 0 ? book.bytes : bytesAfter(book, plan, asked);
  const words = "with columns";
  const target = isDemo ? path.replace("-clean", "-with-columns") : freePath(path, words);
  writeFile(bytes, {
    path: target,
    ending: bookEnding(book.workbook),
    force: isDemo,
    inPlace: null,
  });
  const { snapshot } = book.workbook;
  const faults = book.reading.problems.filter(({ severity }) => severity === "fault").length;
  io.out(
    linesText([
      ...(isDemo ? ["The demonstration programme (invented): Velloran Region."] : []),
      ...registersFound(book.reading),
      "",
      ...todayLines(
        todayOf(snapshot, book.reading),
        undatedParts(snapshot, book.reading),
        besideLists(book),
      ),
      "",
      `Written: ${target}`,
      `  ${describePlan(plan)[0] ?? ""}`,
      faults === 0
        ? "No faults in the rows."
        : `${counted(faults, "fault")} in the rows: npx sparespan check "${path}"`,
    ]),
  );
}
