import { countedFromFormula, NO_DATE } from "../answers/counted-from.ts";
import { countedFromTitle, lastDoneTitle, loggedTitle } from "../answers/titles.ts";
import type { Part } from "../records/records.ts";
import { type CellValue, columnLetters, isCellError, valueAt } from "../workbook/snapshot.ts";
import type { Facts, PartFacts } from "./facts.ts";

const DATE = { format: "yyyy-mm-dd", width: 12, computed: null };

interface Logged {
  readonly facts: Facts;
  readonly inputs: PartFacts;
  /** The register's own date column of the part. */
  readonly column: number;
}

/** Our date column where the log has later dates than those it was filled with: only those cells are written. */
export function filledColumn(part: Part, { facts, inputs, column }: Logged) {
  if (inputs.fills.length === 0) return [];
  const place = { column, there: true, only: new Set(inputs.fills) };
  const values = inputs.lastDoneFromLog.map((date) => facts.serial(date));
  return [{ ...DATE, ...place, title: lastDoneTitle(part), values, formula: null }];
}

/**
 * The log's date beside the register's, and what the interval is counted from, as a formula of the row: a date
 * that is typed into the register later counts at once. Nothing where the log says no more than the register.
 */
export function countedColumns(
  part: Part,
  { facts, inputs, column }: Logged,
  at: (title: string) => { readonly column: number; readonly there: boolean },
) {
  const isThere = facts.columnTitled(countedFromTitle(part)) !== null;
  if (!isThere && inputs.logged.every((date) => date === null)) return [];
  const logged = at(loggedTitle(part));
  const counted = at(countedFromTitle(part));
  const cell = (of: number): string => `$${columnLetters(of)}{r}`;
  const text = countedFromFormula(cell(column), cell(logged.column));
  const values = inputs.logged.map((date) => facts.serial(date));
  return [
    { ...DATE, ...logged, title: loggedTitle(part), values, formula: null },
    {
      ...DATE,
      ...counted,
      title: countedFromTitle(part),
      values: countedValues({ facts, inputs, column }),
      formula: { text, live: false },
    },
  ];
}

/** What the formula gives, row by row, as the workbook counts days. */
function countedValues({ facts, inputs, column }: Logged): CellValue[] {
  const { devices } = facts.reading;
  return inputs.rows.map(({ lastDone }, at) => {
    const row = devices[at]?.row ?? 0;
    const cell = valueAt(facts.sheet, row, column);
    if (isCellError(cell) || typeof cell === "boolean") return NO_DATE;
    if (lastDone === null) return "";
    return lastDone === facts.dated(row, column)
      ? cell
      : facts.serial(inputs.lastDoneFromLog[at] ?? null);
  });
}
