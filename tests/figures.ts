import { readFileSync } from "node:fs";
import { table } from "../functions/help.ts";

/** What `npm run bench` found last. */
interface Bench {
  readonly date: string;
  readonly machine: string;
  /** "what: figure" */
  readonly said: readonly string[];
}

/** The figures of the last bench as README shows them: date, machine and a table. */
export function figures(): string {
  const bench = JSON.parse(readFileSync("tests/bench/results.json", "utf8")) as Bench;
  const rows = bench.said.map((line) => {
    const at = line.lastIndexOf(": ");
    return [line.slice(0, at).trim(), line.slice(at + 2)];
  });
  return `${bench.date}, ${bench.machine}.\n\n${table(["what", "figure"], rows)}`;
}
