import { CAUSES } from "../book/records/causes.ts";
import type { Problem } from "../book/records/records.ts";
import { address, columnLetters } from "../book/workbook/snapshot.ts";

/**
 * Every problem as lines for people: faults first, then what is only stated. What the cells of a column have in
 * common is said once, with all of its cells.
 */
export function problemLines(problems: readonly Problem[]): string[] {
  const lines = (severity: Problem["severity"]): string[] =>
    alike(problems.filter((problem) => problem.severity === severity)).map((all) => lineOf(all));
  return [...lines("fault"), ...lines("notice")];
}

/** At least one problem, and those of other rows that say the same. */
type Alike = readonly [Problem, ...Problem[]];

function alike(problems: readonly Problem[]): Alike[] {
  const groups = new Map<string, [Problem, ...Problem[]]>();
  for (const problem of problems) {
    const { sheet, row, column, heading, kind, cause, fix } = problem;
    const key = JSON.stringify([sheet, row === null, column, heading, kind, cause, fix]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [problem]);
    else group.push(problem);
  }
  return [...groups.values()];
}

function lineOf(all: Alike): string {
  const [{ sheet, heading, kind, cause, fix }] = all;
  const where = `${sheet}${cellsOf(all)}${heading === "" ? "" : ` (${heading})`}`;
  return `${where}: ${CAUSES[kind]}. ${[cause, fix].filter((text) => text !== "").join(" ")}`;
}

function cellsOf(all: Alike): string {
  const { column } = all[0];
  const rows = all.flatMap(({ row }) => (row === null ? [] : [row]));
  if (rows.length === 0) {
    return column === null ? "" : `!${columnLetters(column)}:${columnLetters(column)}`;
  }
  const ranges = runsOf(rows).map(([first, last]) => {
    if (column === null) return `${first + 1}:${last + 1}`;
    const from = address(first, column);
    return first === last ? from : `${from}:${address(last, column)}`;
  });
  return `!${ranges.join(", ")}`;
}

/** Rows one below the other together: their first and last. */
function runsOf(rows: readonly number[]): [number, number][] {
  const runs: [number, number][] = [];
  for (const row of [...new Set(rows)].sort((one, other) => one - other)) {
    const run = runs.at(-1);
    if (run !== undefined && run[1] === row - 1) run[1] = row;
    else runs.push([row, row]);
  }
  return runs;
}
