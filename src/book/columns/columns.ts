import { EACH_COMPUTED } from "../answers/computed.ts";
import type { RowCells } from "../answers/formula-pieces.ts";
import {
  type Computed,
  computedTitle,
  COUNTED_TITLE,
  doubtTitle,
  findingTitle,
  JUDGED_TITLE,
  USES_TITLE,
} from "../answers/titles.ts";
import { DOUBT_CAUSES } from "../records/doubt-causes.ts";
import type { Doubt } from "../records/problem-kinds.ts";
import { NAME } from "../records/names.ts";
import { judgedOn } from "../records/settings.ts";
import type { Part, Reading } from "../records/records.ts";
import type { RegisterReading } from "../records/registers.ts";
import { columnLetters, type Sheet, type Snapshot } from "../workbook/snapshot.ts";
import type { Facts } from "./facts.ts";
import { judge } from "./judge.ts";
import { lastDoneColumns } from "./last-done-columns.ts";
import {
  type Context,
  DATES,
  type Mode,
  type OurColumn,
  type Places,
  placesOf,
} from "./our-column.ts";

/** The columns of ours in one register. */
export interface RegisterColumns {
  readonly reading: RegisterReading;
  readonly sheet: Sheet;
  /** In the order they stand or are added. */
  readonly columns: readonly OurColumn[];
}

/** Everything the columns of ours say, register by register. */
export function ourColumns(snapshot: Snapshot, reading: Reading, mode: Mode): RegisterColumns[] {
  const { registers } = judge(snapshot, reading);
  return registers.map((judged) => {
    const { facts } = judged;
    const context = { judged, places: placesOf(facts), mode };
    const columns = [
      ...sharedColumns(facts, context.places),
      ...judged.parts.flatMap((part) => columnsOf(part, context)),
      judgedColumn(context),
    ];
    return { reading: facts.reading, sheet: facts.sheet, columns };
  });
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
      ...DATES,
      title: COUNTED_TITLE,
      values: facts.usage.map(({ countedTo }) => facts.serial(countedTo)),
    },
  ];
}

/** As of which day the states hold: a workbook that is left lying stands still. */
function judgedColumn({ judged: { facts }, places, mode }: Context): OurColumn {
  const { devices, ours } = facts.reading;
  const day = facts.serial(judgedOn(ours.settings));
  return {
    ...DATES,
    ...places.at(JUDGED_TITLE),
    title: JUDGED_TITLE,
    values: devices.map(() => day),
    formula: mode === "values" ? null : { text: NAME.reportDate, live: false },
  };
}

function columnsOf(part: Part, context: Context): OurColumn[] {
  const { judged, places, mode } = context;
  const { facts } = judged;
  const inputs = judged.inputs(part);
  const { lastDone, added } = lastDoneColumns(part, context);
  const openFinding = optionalColumn(context, findingTitle(part), inputs.findings);
  const doubt = optionalColumn(context, doubtTitle(part), inputs.doubts.map(doubtCell));
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

/** Why a date is in doubt, as people read it in the register. */
function doubtCell(doubt: Doubt | null): string | null {
  return doubt === null ? null : DOUBT_CAUSES[doubt];
}

/** A column of words that is added only once there is something to say in it. */
function optionalColumn(
  { judged: { facts }, places }: Context,
  title: string,
  values: readonly (string | null)[],
): OurColumn | null {
  if (facts.columnTitled(title) === null && values.every((value) => value === null)) return null;
  const plain = { formula: null, format: "General", width: 30, computed: null };
  return { ...places.at(title), ...plain, title, values };
}

function rowCells(
  { judged, places }: Context,
  part: Part,
  own: {
    readonly lastDone: number;
    readonly finding: number | null;
    readonly openFinding: number | null;
    readonly doubt: number | null;
    readonly computed: Readonly<Record<Computed, { readonly column: number }>>;
  },
): RowCells {
  const { facts } = judged;
  const { due, months } = judged.inputs(part).own;
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
    ownDue: optional(due),
    ownMonths: months === null ? null : { cell: cell(months.column), unit: months.unit },
    interval: cell(own.computed.interval.column),
    due: cell(own.computed.due.column),
  };
}
