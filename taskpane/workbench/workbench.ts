import { functions } from "../../functions/index.ts";
import { REPORT_DATE } from "../../src/book/demo/programme.ts";
import { DEMO_SEED, demoBook } from "../../src/book/demo/workbook.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import type { Desk } from "../pane/desk.ts";
import { mount } from "../pane/mount.ts";
import { sentenceOf } from "../pane/trouble.ts";
import { downloaded, type OpenedFile, pickedFile, servedFile } from "./file.ts";
import { makeGrid } from "./grid/grid.ts";
import { showGuide } from "./guide.ts";
import { type Bench, benchOver } from "./host.ts";
import { listReports } from "./reports.ts";
import type { Grid } from "./sheets.ts";

const DEMO_NAME = `velloran-${DEMO_SEED}-clean.xlsx`;

const container = part("grid");
const bench: Bench = benchOver(() => grid, navigator.language || "en");
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

void start();

async function start(): Promise<void> {
  showGuide();
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
  const told = opened.told === undefined ? "" : ` ${opened.told}`;
  say(opened.day === undefined ? `${opened.name} is open.${told}` : invented);
  if (connected) await desk.replaced();
  else await desk.connected(bench);
  connected = true;
  showFile();
}

async function save(): Promise<void> {
  const saving = file;
  if (saving === null) return;
  await tried("Saving…", async () => {
    const bytes = await bench.file();
    say(await saving.save(bytes));
    bench.kept(bytes);
    showFile();
  });
}

function listen(): void {
  const pick = part("pick");
  pick.addEventListener("change", () => {
    if (pick instanceof HTMLInputElement) void openPicked(pick.files?.[0]);
  });
  part("demo").addEventListener("click", () => {
    if (mayLeave()) void tried("Opening…", () => show(demonstration()));
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
  listenToDrops();
}

function listenToDrops(): void {
  const mark = (on: boolean): void => {
    document.body.classList.toggle("bench-dropping", on);
  };
  addEventListener("dragover", (event) => {
    event.preventDefault();
    mark(true);
  });
  addEventListener("dragleave", (event) => {
    if (event.relatedTarget === null) mark(false);
  });
  addEventListener("drop", (event) => {
    event.preventDefault();
    mark(false);
    void openPicked(event.dataTransfer?.files[0]);
  });
}

async function openPicked(picked: File | undefined): Promise<void> {
  if (picked === undefined || !mayLeave()) return;
  await tried("Opening…", async () => {
    await show(await pickedFile(picked));
  });
}

function mayLeave(): boolean {
  return !bench.isUnsaved() || confirm("Your changes are not saved. Open another workbook?");
}

/** Does something and tells what went wrong; the file that was open stays open. */
async function tried(doing: string, work: () => Promise<void>): Promise<void> {
  // Opening and saving never meet: what is saved is what was open when Save was pressed.
  if (running || desk.state().busy !== null) {
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

function part(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page has no ${id}`);
  return found;
}
