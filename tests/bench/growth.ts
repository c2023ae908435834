import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { NODE_CODEC } from "../../src/cli/files.ts";
import { newWorkbook } from "../../src/xlsx/index.ts";
import { randomBook } from "../scenes/random-book.ts";

/** What a job in a process of its own took. */
export interface Measured {
  readonly seconds: number;
  readonly megabytes: number;
}

interface Bench {
  readonly say: (text: string) => void;
  readonly child: (script: string, args: readonly string[]) => Measured | null;
}

const ROWS = [1_000, 10_000, 100_000, 1_000_000];
/** Below this many rows the start counts for more than the rows. */
const FITTED_FROM = 10_000;
const STARTS = 9;

/** How soon the command line answers, how today grows with the rows, and where memory ends. */
export function benchGrowth(folder: string, { say, child }: Bench): void {
  say(`calc of one value, start included: ${startSeconds().toFixed(3)} s`);
  const found = ROWS.flatMap((rows): { rows: number; seconds: number }[] => {
    const book = register(folder, rows);
    const run = child("build/tests/bench/year-job.js", ["today", book]);
    say(
      `today, ${rows} rows: ${run === null ? "not finished" : `${run.seconds} s, ${run.megabytes} MB`}`,
    );
    return run === null ? [] : [{ rows, seconds: run.seconds }];
  });
  const fitted = found.filter(({ rows }) => rows >= FITTED_FROM);
  say(`today grows with the rows to the power of: ${slope(fitted).toFixed(2)}`);
  const last = join(folder, `register-${ROWS.at(-1) ?? 0}.xlsx`);
  say(`columns, ${ROWS.at(-1) ?? 0} rows: ${refusal(last, join(folder, "columns.xlsx"))}`);
}

/** A register alone, as a manager keeps it. */
function register(folder: string, rows: number): string {
  const path = join(folder, `register-${rows}.xlsx`);
  const { summary, edits } = randomBook(rows, 5, 1900);
  writeFileSync(path, newWorkbook({ summary, edits: edits.slice(0, 1) }, { codec: NODE_CODEC }));
  return path;
}

/** The median of some runs. */
function startSeconds(): number {
  const times = Array.from({ length: STARTS }, () => {
    const begun = performance.now();
    spawnSync(process.execPath, ["build/command/sparespan.js", "calc", "SPAN", "45", "3", "6"]);
    return (performance.now() - begun) / 1000;
  });
  return times.sort((one, other) => one - other)[Math.floor(STARTS / 2)] ?? NaN;
}

/** Least squares on logarithms. */
function slope(points: readonly { readonly rows: number; readonly seconds: number }[]): number {
  const logs = points.map(({ rows, seconds }) => [Math.log(rows), Math.log(seconds)] as const);
  const mean = (at: 0 | 1): number => logs.reduce((sum, log) => sum + log[at], 0) / logs.length;
  const [x, y] = [mean(0), mean(1)];
  const over = logs.reduce((sum, log) => sum + (log[0] - x) * (log[1] - y), 0);
  return over / logs.reduce((sum, log) => sum + (log[0] - x) ** 2, 0);
}

/** What a person is told where a sheet has no room for the columns. */
function refusal(book: string, out: string): string {
  const args = ["columns", book, "-o", out, "--force", "--report-date", "2026-07-06"];
  const done = spawnSync(process.execPath, ["build/command/sparespan.js", ...args], {
    encoding: "utf8",
  });
  const said = done.stderr.trim().split("\n").at(-1) ?? "";
  return done.status === 2
    ? said.replaceAll(": ", ", ")
    : `ended with ${done.status ?? "a signal"}`;
}
