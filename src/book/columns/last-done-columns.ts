import type { Day } from "../../core/day.ts";
import { countedFromFormula, NO_DATE } from "../answers/counted-from.ts";
import { countedFromTitle, earliestTitle, lastDoneTitle, loggedTitle } from "../answers/titles.ts";
import type { Part } from "../records/records.ts";
import { BookError } from "../workbook/errors.ts";
import { type CellValue, columnLetters, isCellError, valueAt } from "../workbook/snapshot.ts";
import type { Facts, PartFacts } from "./facts.ts";
import { type Context, DATES, type OurColumn, type Places } from "./our-column.ts";

/** What an interval is counted from: the columns that say it, and the one that does in the end. */
export function lastDoneColumns(
  part: Part,
  context: Context,
): { readonly lastDone: number; readonly added: readonly OurColumn[] } {
  const { judged, places } = context;
  const { facts } = judged;
  const inputs = judged.inputs(part);
  if (inputs.positions.length > 0) {
    const earliest = earliestColumn(part, context);
    return { lastDone: earliest.column, added: [earliest] };
  }
  const column = inputs.lastDoneColumn ?? newLastDone(part, places);
  const first =
    inputs.lastDoneColumn === null
      ? [
          {
            ...DATES,
            ...{ column, there: false, title: lastDoneTitle(part), formula: null },
            values: serials(facts, inputs, "date"),
          },
        ]
      : filledColumn(part, { facts, inputs, column, context });
  const counted = countedColumns(part, { facts, inputs, column, context });
  return { lastDone: counted.at(-1)?.column ?? column, added: [...first, ...counted] };
}

/** The place of a new column for a part's dates. */
function newLastDone(part: Part, places: Places): number {
  const { column, there } = places.at(lastDoneTitle(part));
  if (!there) return column;
  throw new BookError(
    `Two columns may say when ${part.name} was last done; choose one with --match "last:${part.code}=its heading".`,
  );
}

/** The earliest date of a part's positions, by a formula that follows their cells. */
function earliestColumn(part: Part, { judged, places, mode }: Context): OurColumn {
  const { facts } = judged;
  const { positions, positionsDue, rows } = judged.inputs(part);
  const each = positions.map((column) => `$${columnLetters(column)}{r}`);
  const cells = each.join(",");
  // Programs differ on whether TRUE is a number: ask first.
  const isLogical = each.map((cell) => `ISLOGICAL(${cell})`).join(",");
  const dates = `IF(COUNT(${cells})=${positionsDue},MIN(${cells}),"")`;
  const none = mode === "values" ? null : "";
  return {
    ...DATES,
    ...places.at(earliestTitle(part)),
    title: earliestTitle(part),
    values: rows.map(({ lastDone }) =>
      typeof lastDone === "number" ? facts.serial(lastDone as Day) : none,
    ),
    formula: mode === "values" ? null : { text: `IF(OR(${isLogical}),"",${dates})`, live: false },
  };
}

interface Logged {
  readonly facts: Facts;
  readonly inputs: PartFacts;
  /** The register's own date column of the part. */
  readonly column: number;
  readonly context: Context;
}

/** Our date column where the log has later dates than those it was filled with: only those cells are written. */
function filledColumn(part: Part, { facts, inputs, column }: Logged): OurColumn[] {
  const fills = facts.reading.devices.filter((_, at) => inputs.beside[at]?.fills === true);
  if (fills.length === 0) return [];
  const place = { column, there: true, only: new Set(fills.map(({ row }) => row)) };
  const values = serials(facts, inputs, "date");
  return [{ ...DATES, ...place, title: lastDoneTitle(part), values, formula: null }];
}

/**
 * The log's date beside the register's, and what the interval is counted from, as a formula of the row: a date
 * that is typed into the register later counts at once. Nothing where the log says no more than the register.
 */
function countedColumns(
  part: Part,
  { facts, inputs, column, context: { places, mode } }: Logged,
): OurColumn[] {
  const isThere = facts.columnTitled(countedFromTitle(part)) !== null;
  if (!isThere && inputs.beside.every((done) => (done?.logged ?? null) === null)) return [];
  const logged = places.at(loggedTitle(part));
  const counted = places.at(countedFromTitle(part));
  const cell = (of: number): string => `$${columnLetters(of)}{r}`;
  const text = countedFromFormula(cell(column), cell(logged.column));
  const values = serials(facts, inputs, "logged");
  return [
    { ...DATES, ...logged, title: loggedTitle(part), values, formula: null },
    {
      ...DATES,
      ...counted,
      title: countedFromTitle(part),
      values: countedValues({ facts, inputs, column }),
      formula: mode === "values" ? null : { text, live: false },
    },
  ];
}

/** The days that count, or those of the programme's own log, as the workbook counts days. */
function serials(facts: Facts, { beside }: PartFacts, which: "date" | "logged") {
  return beside.map((done) => facts.serial(done?.[which] ?? null));
}

/** What the formula gives, row by row, as the workbook counts days. */
function countedValues({ facts, inputs, column }: Omit<Logged, "context">): CellValue[] {
  const { devices } = facts.reading;
  return inputs.rows.map(({ lastDone }, at) => {
    const row = devices[at]?.row ?? 0;
    const cell = valueAt(facts.sheet, row, column);
    if (isCellError(cell) || typeof cell === "boolean") return NO_DATE;
    if (lastDone === null) return "";
    return lastDone === facts.dated(row, column)
      ? cell
      : facts.serial(inputs.beside[at]?.date ?? null);
  });
}
