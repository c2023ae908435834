import { functions } from "../../functions/index.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import type { Desk } from "../pane/state/desk.ts";
import { mount } from "../pane/mount.ts";
import { sentenceOf } from "../pane/state/trouble.ts";
import { listenToAbout } from "./about.ts";
import { FROM_1904 } from "./days.ts";
import { downloaded, type OpenedFile } from "./file.ts";
import { makeGrid } from "./grid/grid.ts";
import { showGuide } from "./guide.ts";
import { type Bench, benchOver, wallDay } from "./host.ts";
import { keepForLater } from "./install.ts";
import { listenToKeys } from "./keys.ts";
import { listenToOpening } from "./opening.ts";
import { part } from "./page.ts";
import { listReports } from "./reports.ts";
import { servedFile } from "./served.ts";
import type { Grid } from "./sheets.ts";

const DEMO_NAME = `velloran-${DEMO_SEED}-clean.xlsx`;

const container = part("grid");
const bench: Bench = benchOver(() => grid, navigator.language || "en", showFile);
const grid: Grid = makeGrid(container, functions, {
  changed(sheet, keys) {
    bench.touched(sheet, keys);
    showFile();
  },
  refused: say,
  selected(_, fault) {
    if (fault !== null) say(fault);
  },
});
const desk: Desk = mount();
let file: OpenedFile | null = null;
let connected = false;
let running = false;
/** A press on Save waits for its turn, or has it. */
let awaiting = false;

void start();

async function start(): Promise<void> {
  showGuide();
  keepForLater();
  listenToAbout();
  listenToKeys(grid);
  listen();
  await tried("Opening…", async () => {
    await show((await servedFile()) ?? demonstration());
  });
}

function demonstration(): OpenedFile {
  const bytes = newWorkbook(demoBook(DEMO_SEED, false).plan);
  return { ...downloaded(DEMO_NAME, new Uint8Array(bytes)), day: REPORT_DATE };
}

/** Opens a file in the grid and has the pane read it. */
async function show(opened: OpenedFile): Promise<void> {
  await bench.openFile(opened.bytes, opened.day);
  file = opened;
  showFile();
  const invented = "The demonstration programme (invented), judged as of its own report date.";
  const told = [`${opened.name} is open.`, opened.told ?? "", bench.from1904() ? FROM_1904 : ""];
  say(opened.day === undefined ? told.filter(Boolean).join(" ") : invented);
  if (connected) await desk.replaced();
  else await desk.connected(bench);
  connected = true;
  showFile();
}

async function save(): Promise<void> {
  const saving = file;
  if (saving === null || awaiting) return;
  awaiting = true;
  if (isAtWork()) say("Saving once what runs now has finished…");
  try {
    await saving.asked?.();
    await finished();
    if (file === saving) await saveNow(saving);
    else say(`Another workbook was opened before ${saving.name} was saved: nothing was saved.`);
  } catch (error) {
    say(sentenceOf(error));
  }
  awaiting = false;
}

/** Saves what is open, as it stands now. */
async function saveNow(saving: OpenedFile): Promise<void> {
  await tried("Saving…", async () => {
    const bytes = await bench.file();
    say(await saving.save(bytes));
    bench.kept(bytes);
    showFile();
  });
}

function listen(): void {
  listenToOpening({ open, today: wallDay });
  part("demo").addEventListener("click", () => {
    void open(() => Promise.resolve(demonstration()));
  });
  part("save").addEventListener("click", () => void save());
  addEventListener("beforeunload", (event) => {
    if (bench.isUnsaved()) event.preventDefault();
  });
  addEventListener("keydown", (event) => {
    if (event.key !== "s" || !(event.ctrlKey || event.metaKey)) return;
    event.preventDefault();
    void save();
  });
  bench.changed(showFile);
  const reports = part("reports");
  if (reports instanceof HTMLDetailsElement) listReports(reports, bench);
}

/** Opens what will be found in place of what is open. */
async function open(find: () => Promise<OpenedFile | null>): Promise<void> {
  await tried("Opening…", async () => {
    const found = await find();
    if (found !== null && mayLeave()) await show(found);
    else say("No other workbook was opened.");
  });
}

function mayLeave(): boolean {
  return !bench.isUnsaved() || confirm("Your changes are not saved. Open another workbook?");
}

/** Something runs here or in the pane. */
function isAtWork(): boolean {
  return running || desk.state().busy !== null;
}

/** Comes back once nothing runs: ten thousand rows are read for some seconds. */
async function finished(): Promise<void> {
  while (isAtWork()) await new Promise((resolve) => setTimeout(resolve, 50));
}

/** Does something and tells what went wrong; the file that was open stays open. */
async function tried(doing: string, work: () => Promise<void>): Promise<void> {
  // Opening and saving never meet: what is saved is what was open when Save was pressed.
  if (isAtWork()) {
    say("Something else has not finished yet. Wait a moment, then try again.");
    return;
  }
  running = true;
  say(doing);
  try {
    await work();
  } catch (error) {
    say(sentenceOf(error));
  }
  running = false;
}

function showFile(): void {
  const unsaved = bench.isUnsaved();
  const name = file?.name ?? "Sparespan workbench";
  part("file").textContent = unsaved ? `${name} (not saved)` : name;
  document.title = `${unsaved ? "• " : ""}${name} – Sparespan`;
  part("save").toggleAttribute("disabled", file === null);
}

function say(sentence: string): void {
  part("status").textContent = sentence;
}
