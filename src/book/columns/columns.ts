import type { Day } from "../../core/day.ts";
import { BookError } from "../workbook/errors.ts";
import type { ColumnCells, Formula } from "../workbook/plan.ts";
import type { Part, Reading } from "../records/records.ts";
import type { RegisterReading } from "../records/registers.ts";
import { type Computed, EACH_COMPUTED } from "../answers/computed.ts";
import type { RowCells } from "../answers/formula-pieces.ts";
import { type Facts } from "./facts.ts";
import { type CellValue, columnLetters, type Sheet, type Snapshot } from "../workbook/snapshot.ts";
import {
  computedTitle,
  COUNTED_TITLE,
  doubtTitle,
  earliestTitle,
  findingTitle,
  lastDoneTitle,
  USES_TITLE,
} from "../answers/titles.ts";
import { judge, type JudgedRegister } from "./judge.ts";
import { countedColumns, filledColumn } from "./own-log-columns.ts";

/** How computed columns are written: native formulas, our functions, or bare values. */
export type Mode = "portable" | "live" | "values";

/** One column of ours, complete: where, what, how it looks. values[i] belongs to register.rows[i]. */
export interface OurColumn {
  readonly title: string;
  readonly column: number;
  /** Already in the register from an earlier run. */
  readonly there: boolean;
  readonly values: readonly CellValue[];
  readonly formula: Formula | null;
  readonly format: string;
  readonly width: number;
  /** Rows that are ours to write; all where it is absent. */
  readonly only?: ReadonlySet<number>;
  /** Set for the computed columns; the state column carries the rules. */
  readonly computed: Computed | null;
}

/** Cells of a column as a plan writes them. */
export function cellsOf(
  { column, formula, format }: OurColumn,
  rows: readonly number[],
  values: readonly CellValue[],
): ColumnCells {
  return { column, rows, values, format, ...(formula === null ? {} : { formula }) };
}

const DATE_FORMAT = "yyyy-mm-dd";

/** The columns of ours in one register. */
export interface RegisterColumns {
  readonly reading: RegisterReading;
  readonly sheet: Sheet;
  /** In the order they stand or are added. */
  readonly columns: readonly OurColumn[];
}

/** Everything the columns of ours say, register by register. */
export function ourColumns(snapshot: Snapshot, reading: Reading, mode: Mode): RegisterColumns[] {
  const { registers, parts } = judge(snapshot, reading);
  return registers.map((judged) => {
    const { facts } = judged;
    const context = { judged, places: placesOf(facts), mode };
    const columns = [
      ...sharedColumns(facts, context.places),
      ...parts.flatMap((part) => columnsOf(part, context)),
    ];
    return { reading: facts.reading, sheet: facts.sheet, columns };
  });
}

interface Context {
  readonly judged: JudgedRegister;
  readonly places: Places;
  readonly mode: Mode;
}

/** Hands out columns, one a title: the one that already carries it, or the next free one. */
interface Places {
  at(title: string): { readonly column: number; readonly there: boolean };
}

function placesOf(facts: Facts): Places {
  let next = facts.firstFree;
  const given = new Map<string, { readonly column: number; readonly there: boolean }>();
  return {
    at(title) {
      const before = given.get(title);
      if (before) return before;
      const found = facts.columnTitled(title);
      const place =
        found === null ? { column: next, there: false } : { column: found, there: true };
      if (!place.there) next += 1;
      given.set(title, place);
      return place;
    },
  };
}

/** Usage of each device, written as a value: counts live on another sheet, formulas stay in their row. */
function sharedColumns(facts: Facts, places: Places): OurColumn[] {
  if (facts.usage === null) return [];
  const plain = { formula: null, computed: null };
  return [
    {
      ...places.at(USES_TITLE),
      ...plain,
      title: USES_TITLE,
      values: facts.usage.map(({ uses }) => uses),
      format: "0.00",
      width: 11,
    },
    {
      ...places.at(COUNTED_TITLE),
      ...plain,
      title: COUNTED_TITLE,
      values: facts.usage.map(({ countedTo }) => facts.serial(countedTo)),
      format: DATE_FORMAT,
      width: 12,
    },
  ];
}

/** What an interval is counted from: the columns that say it, and the one that does in the end. */
function lastDoneColumns(
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
            ...{ column, there: false, title: lastDoneTitle(part), formula: null, computed: null },
            values: inputs.lastDoneFromLog.map((date) => facts.serial(date)),
            ...{ format: DATE_FORMAT, width: 12 },
          },
        ]
      : filledColumn(part, { facts, inputs, column });
  const counted = countedColumns(part, { facts, inputs, column }, (title) => places.at(title));
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

function columnsOf(part: Part, context: Context): OurColumn[] {
  const { judged, places, mode } = context;
  const { facts } = judged;
  const inputs = judged.inputs(part);
  const { lastDone, added } = lastDoneColumns(part, context);
  const openFinding = optionalColumn(context, findingTitle(part), inputs.findings);
  const doubt = optionalColumn(context, doubtTitle(part), inputs.doubts);
  const rows = judged.rows(part);
  const computed = Object.fromEntries(
    EACH_COMPUTED.map(([key]) => [key, places.at(computedTitle(part, key))]),
  ) as Record<Computed, ReturnType<Places["at"]>>;
  const cells = rowCells(context, part, {
    lastDone,
    finding: inputs.findingColumn,
    openFinding: openFinding?.column ?? null,
    doubt: doubt?.column ?? null,
    computed,
  });
  return [
    ...added,
    ...[openFinding, doubt].filter((column) => column !== null),
    ...EACH_COMPUTED.map(([key, declared]) => ({
      ...computed[key],
      title: computedTitle(part, key),
      values: rows.map(({ answers }) => declared.value(answers, facts.serial)),
      formula:
        mode === "values" ? null : { text: declared[mode](part, cells), live: mode === "live" },
      format: declared.format,
      width: declared.width,
      computed: key,
    })),
  ];
}

/** The earliest date of a part's positions, by a formula that follows their cells. */
function earliestColumn(part: Part, { judged, places, mode }: Context): OurColumn {
  const { facts } = judged;
  const { positions, rows } = judged.inputs(part);
  const cells = positions.map((column) => `$${columnLetters(column)}{r}`).join(",");
  const none = mode === "values" ? null : "";
  return {
    ...places.at(earliestTitle(part)),
    title: earliestTitle(part),
    values: rows.map(({ lastDone }) =>
      typeof lastDone === "number" ? facts.serial(lastDone as Day) : none,
    ),
    formula:
      mode === "values"
        ? null
        : { text: `IF(COUNT(${cells})=${positions.length},MIN(${cells}),"")`, live: false },
    format: DATE_FORMAT,
    width: 12,
    computed: null,
  };
}

/** A column of words that is added only once there is something to say in it. */
function optionalColumn(
  { judged: { facts }, places }: Context,
  title: string,
  values: readonly (string | null)[],
): OurColumn | null {
  if (facts.columnTitled(title) === null && values.every((value) => value === null)) return null;
  const plain = { formula: null, format: "General", width: 20, computed: null };
  return { ...places.at(title), ...plain, title, values };
}

function rowCells(
  { judged: { facts }, places }: Context,
  part: Part,
  own: {
    readonly lastDone: number;
    readonly finding: number | null;
    readonly openFinding: number | null;
    readonly doubt: number | null;
    readonly computed: Readonly<Record<Computed, { readonly column: number }>>;
  },
): RowCells {
  const cell = (column: number): string => `$${columnLetters(column)}{r}`;
  const optional = (column: number | null): string | null =>
    column === null ? null : cell(column);
  const counted = facts.usage !== null && !part.task;
  return {
    lastDone: cell(own.lastDone),
    uses: counted ? cell(places.at(USES_TITLE).column) : optional(facts.columns.uses),
    countedTo: counted ? cell(places.at(COUNTED_TITLE).column) : null,
    finding: optional(own.finding),
    openFinding: optional(own.openFinding),
    doubt: optional(own.doubt),
    status: optional(facts.columns.status),
    retiredOn: optional(facts.columns.retiredOn),
    site: optional(facts.columns.site),
    interval: cell(own.computed.interval.column),
    due: cell(own.computed.due.column),
  };
}
