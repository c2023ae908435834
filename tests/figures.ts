import { readFileSync } from "node:fs";
import { table } from "../functions/help.ts";

/** What `npm run bench` found last. */
interface Bench {
  readonly date: string;
  readonly machine: string;
  /** "what: figure" */
  readonly said: readonly string[];
}

/** A line with a figure, not one of progress. */
export function isFigure(line: string): boolean {
  return /^.+: .+$/.test(line);
}

/** The figures of the last bench as README shows them: date, machine and a table. */
export function figures(bench = lastBench()): string {
  const rows = bench.said.filter(isFigure).map((line) => {
    const at = line.lastIndexOf(": ");
    return [line.slice(0, at).trim(), line.slice(at + 2)];
  });
  return `${bench.date}, ${bench.machine}.\n\n${table(["what", "figure"], rows)}`;
}

/** What stands in the file that the bench writes. */
export function lastBench(): Bench {
  return JSON.parse(readFileSync("tests/bench/results.json", "utf8")) as Bench;
}
