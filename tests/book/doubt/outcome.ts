import { ordersOf } from "../../../src/book/orders/orders.ts";
import { orderWorkSheet } from "../../../src/book/orders/order-work.ts";
import { type Budget, budgetOf } from "../../../src/book/budget/budget.ts";
import { judge } from "../../../src/book/columns/judge.ts";
import { textOf } from "../../../src/book/sheets/layout.ts";
import { readWorkbook } from "../../../src/book/reading/workbook.ts";
import type { Problem } from "../../../src/book/records/records.ts";
import type { CellValue, Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { NO_WHAT_IF } from "../../../src/book/year/what-if.ts";
import { USUAL_YEAR, yearAhead } from "../../../src/book/year/year.ts";
import { STEADY_DATE } from "../../scenes/steady-book.ts";

/** What a programme is told by its jobs, each figure under what it is of. */
export interface Outcome {
  readonly problems: readonly Problem[];
  readonly rows: ReadonlyMap<string, { interval: number; due: number; state: string }>;
  readonly points: ReadonlyMap<string, number>;
  readonly need: ReadonlyMap<string, number>;
  readonly upper: number | null;
  readonly budget: Budget;
}

/** Everything the jobs say of a workbook. */
export function outcomeOf(book: Snapshot): Outcome {
  const reading = readWorkbook(book, STEADY_DATE);
  const { parts, rows } = judge(book, reading);
  const year = yearAhead(book, reading, { ...USUAL_YEAR, whatIf: NO_WHAT_IF });
  const budget = budgetOf(book, reading, {
    from: null,
    level: null,
    pooled: false,
    births: false,
    whatIf: NO_WHAT_IF,
  });
  const work = orderWorkSheet(ordersOf(year, false));
  const heading = (name: string): number =>
    work.layout.columns.findIndex((column) => column.heading === name);
  const cell = (row: readonly CellValue[], name: string): CellValue => row[heading(name)] ?? null;
  return {
    problems: reading.problems,
    rows: new Map(
      parts.flatMap((part) =>
        rows(part).map(({ device, answers: { interval, due, state } }) => [
          `${part.name} of ${device.id}`,
          { interval: interval === "" ? 0 : interval, due: due ?? 0, state },
        ]),
      ),
    ),
    points: new Map(
      work.rows.map((row) => [
        `${textOf(cell(row, "Item"))} at ${textOf(cell(row, "Site"))}`,
        Number(cell(row, "Reorder point")),
      ]),
    ),
    need: new Map(
      year.parts.map(({ part, months }) => [
        part.name,
        months.reduce((sum, { expected }) => sum + expected, 0),
      ]),
    ),
    upper: budget.incomplete.length === 0 ? budget.upper : null,
    budget,
  };
}

const CALM = ["Check row", "Overdue", "Due soon", "Not due", "Retired"];

/** Where an outcome is calmer than the true one: longer, later, less, cheaper, or gone. */
export function calmer(found: Outcome, right: Outcome): string[] {
  const wrong: string[] = [];
  for (const [key, { interval, due, state }] of right.rows) {
    const row = found.rows.get(key);
    if (row === undefined) {
      wrong.push(`${key} is gone`);
      continue;
    }
    if (row.interval > interval) wrong.push(`${key}: ${row.interval} months, not ${interval}`);
    if (row.due > due) wrong.push(`${key}: due ${row.due - due} days later`);
    const isCalmer = row.state !== "Check row" && CALM.indexOf(row.state) > CALM.indexOf(state);
    if (isCalmer) wrong.push(`${key}: ${row.state}, not ${state}`);
  }
  const atLeast = (
    what: string,
    one: ReadonlyMap<string, number>,
    other: ReadonlyMap<string, number>,
  ): void => {
    for (const [key, value] of other) {
      const now = one.get(key);
      if (now === undefined) wrong.push(`${what} of ${key} is gone`);
      else if (now < value - 1e-9) wrong.push(`${what} of ${key}: ${now}, not ${value}`);
    }
  };
  atLeast("reorder point", found.points, right.points);
  atLeast("need", found.need, right.need);
  if (found.upper !== null && right.upper !== null && found.upper < right.upper - 0.005) {
    wrong.push(`budget: ${found.upper}, not ${right.upper}`);
  }
  return wrong;
}
