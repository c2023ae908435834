import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { join, resolve } from "node:path";
import { type Day, day } from "../../src/core/day.ts";
import { dueState, nextDue } from "../../src/core/due.ts";
import { replacementInterval } from "../../src/core/usage.ts";
import { workCalendar } from "../../src/core/workday.ts";
import { chance } from "../../src/book/demo/chance.ts";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { isFigure } from "../figures.ts";
import { officeMissing, recalculated } from "../elsewhere/office.ts";
import { randomBook } from "../scenes/random-book.ts";
import { benchFunctions } from "./functions.ts";
import { benchGrowth, type Measured } from "./growth.ts";
import { nationalBook } from "./national.ts";
import { benchWorkbench } from "./workbench.ts";

/** Measures the main jobs beside peers in the same run. Figures are of this machine; ratios travel better. */
const FOLDER = resolve("build/bench");
const SIZES = [10_000, 100_000];
const NATIONAL = [200, 2_000];
const EXCELJS = "exceljs@4.4.0";
const PEER_PATIENCE = 300_000;

const said: string[] = [];

function say(text: string): void {
  if (isFigure(text)) said.push(text);
  process.stdout.write(`${text}\n`);
}

mkdirSync(FOLDER, { recursive: true });
const machine = `Node ${process.versions.node}, ${cpus().length} cores, ${cpus()[0]?.model ?? "unknown processor"}`;
process.stdout.write(`${machine}\n`);
benchFunctions(say);
const coreSeconds = benchCore();
for (const sites of NATIONAL) benchNational(sites);
for (const size of SIZES) await benchFile(size);
benchGrowth(FOLDER, { say, child });
await benchWorkbench(FOLDER, say);
// What README's table is made of: npm run docs.
const date = new Date().toISOString().slice(0, 10);
writeFileSync("tests/bench/results.json", `${JSON.stringify({ date, machine, said }, null, 2)}\n`);

/** The jobs of the year on a national programme, ten devices a site, 36 months of counts. */
function benchNational(sites: number): void {
  const book = nationalBook(sites);
  for (const job of ["ahead", "order", "budget"]) {
    const run = child("build/tests/bench/year-job.js", [job, book]);
    say(`${job}, ${sites} sites, ${sites * 10} devices: ${measured(run)}`);
  }
}

/** Interval, next due and state of 100,000 rows; median of seven runs after two to warm up. */
function benchCore(): number {
  for (const rows of [100_000, 1_000_000]) {
    const random = chance(1);
    const holidays = Array.from({ length: 60 }, (_, at) => (day("2026-01-01") + at * 17) as Day);
    const calendar = workCalendar(1, holidays);
    const uses = Array.from({ length: rows }, () => random.share() * 90);
    const last = Array.from({ length: rows }, () => (day("2025-07-01") + random.below(400)) as Day);
    const reportDate = day("2026-07-06");
    const ends = { shortest: 3, longest: 6, useBudget: null, lightUse: 20, heavyUse: 60 };
    const once = (): number => {
      const begun = performance.now();
      let overdue = 0;
      for (let row = 0; row < rows; row += 1) {
        const months = replacementInterval({ usesPerMonth: uses[row] ?? 0, ...ends });
        const due = nextDue(last[row] ?? reportDate, months, calendar);
        if (dueState(due, reportDate, 14, null) === "Overdue") overdue += 1;
      }
      return overdue > 0 ? performance.now() - begun : NaN;
    };
    const times = Array.from({ length: 9 }, once)
      .slice(2)
      .sort((a, b) => a - b);
    say(
      `core: interval, next due, state of ${rows} rows: ${((times[3] ?? NaN) / 1000).toFixed(3)} s`,
    );
    if (rows === 100_000) continue;
    return (times[3] ?? NaN) / 10_000;
  }
  return NaN;
}

async function benchFile(rows: number): Promise<void> {
  const book = join(FOLDER, `${rows}.xlsx`);
  const out = join(FOLDER, `${rows}-columns.xlsx`);
  // The register alone, as a manager keeps it; our sheets come with the job.
  const { summary, edits } = randomBook(rows, 5, 1900);
  const register = { summary, edits: edits.slice(0, 1) };
  writeFileSync(book, newWorkbook(register, { codec: NODE_CODEC }));
  const planned = join(FOLDER, "plan.json");
  const ours = child("build/tests/bench/job.js", [book, out, planned]);
  say(`file job, ${rows} rows (16 columns, sheets, rules, read back): ${measured(ours)}`);
  const { seconds } = ours ?? { seconds: NaN };
  const folder = peerFolder();
  const peer =
    folder === null
      ? null
      : child("tests/bench/peer.mjs", [book, join(FOLDER, "peer.xlsx"), planned, folder]);
  if (peer)
    say(
      `  ${EXCELJS}, the same edit of ${rows} rows, not read back: ${measured(peer)}, ${ratio(peer.seconds, seconds)}`,
    );
  await benchOffice(out, rows, seconds);
}

async function benchOffice(out: string, rows: number, seconds: number): Promise<void> {
  const missing = officeMissing();
  if (missing !== null) {
    say(`  LibreOffice: not measured, ${missing}`);
    return;
  }
  const begun = performance.now();
  const done = spawnSync(
    "soffice",
    ["--headless", "--convert-to", "ods", "--outdir", FOLDER, out],
    {
      timeout: PEER_PATIENCE,
    },
  );
  const converting = (performance.now() - begun) / 1000;
  const outcome = done.status === 0 ? ratio(converting, seconds) : "given up";
  say(
    `  LibreOffice opening and saving the result of ${rows} rows: ${converting.toFixed(1)} s, ${outcome}`,
  );
  const [answer] = await recalculated([{ path: out, sheet: "Equipment" }]);
  const calculating = answer?.seconds ?? NaN;
  const core = (coreSeconds * (answer?.plain.length ?? 0) * 3) / 100_000;
  say(
    `  LibreOffice recalculating the 12 portable columns of ${rows} rows: ${calculating.toFixed(2)} s, ${ratio(calculating, core)} (the core alone, ${core.toFixed(3)} s)`,
  );
}

function measured(run: Measured | null): string {
  return run === null ? "not finished" : `${run.seconds} s, ${run.megabytes} MB`;
}

function ratio(peer: number, ours: number): string {
  return `${(peer / ours).toFixed(1)} times ours`;
}

function child(script: string, args: readonly string[]): Measured | null {
  const done = spawnSync(process.execPath, [script, ...args], {
    encoding: "utf8",
    timeout: PEER_PATIENCE,
    maxBuffer: 1 << 26,
  });
  if (done.status === 0) return JSON.parse(done.stdout) as Measured;
  say(`  ${script} did not finish: ${done.error?.message ?? done.stderr.slice(0, 300)}`);
  return null;
}

/** The peer lives outside the project's own dependencies. */
function peerFolder(): string | null {
  const folder = join(FOLDER, "peer");
  if (existsSync(join(folder, "node_modules", "exceljs"))) return folder;
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "package.json"), "{}");
  const done = spawnSync("npm", ["install", "--no-audit", "--no-fund", EXCELJS], { cwd: folder });
  if (done.status === 0) return folder;
  say(`  ${EXCELJS} could not be installed: not measured`);
  return null;
}
