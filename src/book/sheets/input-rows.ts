import { type DateSystem, isDay, isoText } from "../../core/day.ts";
import { type CellPlace, fault } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import type { CellValue, Sheet } from "../workbook/snapshot.ts";
import type { InputColumn, InputColumns } from "./column.ts";
import { type Heard, shownCell } from "./heard.ts";
import { headingColumn, type Layout, readRows } from "./layout.ts";

const DATE_FORMAT = "yyyy-mm-dd";

/** One row of a sheet that people fill in. */
export interface InputRow<R> {
  readonly row: number;
  /** What its cells say; where one cannot be read, what is careful. */
  readonly record: R;
  /** Cells that are not what they must be, each under its field. */
  readonly doubts: ReadonlyMap<keyof R, Doubt>;
  /** Fields whose cell holds something. */
  readonly filled: ReadonlySet<keyof R>;
}

/** A cell that is not what it must be. */
interface Doubt {
  readonly heading: string;
  readonly cell: CellValue;
  /** Its meaning is certain all the same. */
  readonly certain: boolean;
  readonly problem: Problem;
}

/** The filled rows of a sheet of ours, each cell heard by its column. */
export function inputRows<R>(
  sheet: Sheet,
  layout: Layout,
  columns: InputColumns<R>,
  system: DateSystem,
): InputRow<R>[] {
  const fields = Object.entries(columns) as [keyof R, InputColumn<R[keyof R]>][];
  const rows = readRows(sheet, layout);
  const heard = fields.map(([, { heading, hear }]) =>
    rows.map(({ values }) => hear(values.get(heading), system)),
  );
  return rows.map(({ row, values }, at) => {
    const doubts = new Map<keyof R, Doubt>();
    const record = fields.map(([field, column], which) => {
      const { heading } = column;
      const one = heard[which]?.[at];
      if (one === undefined) throw new Error(`${heading} was not heard`);
      if (one.as === "meant") return [field, one.value] as const;
      const cell = values.get(heading) ?? null;
      const value =
        one.as === "text" ? one.value : carefulIn(column, { cell, one, heard: heard[which] ?? [] });
      const place = { sheet: sheet.name, row, column: headingColumn(sheet, heading), heading };
      const hints = one.as === "text" ? [] : one.hints;
      const problem = problemOf(column, { cell, value, certain: one.as === "text", hints }, place);
      doubts.set(field, { heading, cell, certain: one.as === "text", problem });
      return [field, value] as const;
    });
    const filled = new Set(
      fields.flatMap(([field, { heading }]) => (values.has(heading) ? [field] : [])),
    );
    return { row, record: Object.fromEntries(record) as R, doubts, filled };
  });
}

interface Unread<T> {
  readonly cell: CellValue;
  readonly one: Extract<Heard<T>, { readonly as: "doubtful" }>;
  readonly heard: readonly Heard<T>[];
}

function carefulIn<T>(column: InputColumn<T>, { cell, one, heard }: Unread<T>): T {
  const others = heard.flatMap((other) => (other.as === "doubtful" ? [] : [other.value]));
  return column.careful({ cell, hints: one.hints, others });
}

interface Told<T> {
  readonly cell: CellValue;
  readonly value: T;
  readonly certain: boolean;
  readonly hints: readonly number[];
}

function problemOf<T>(
  { must, carefully, format }: InputColumn<T>,
  { cell, value, certain, hints }: Told<T>,
  place: CellPlace,
): Problem {
  const isDate = format === DATE_FORMAT;
  const said = saidAs(value, isDate);
  if (certain) {
    const cause = `${shownCell(cell)} is text; it must be ${must}. It is read as ${said}.`;
    return fault("number in text", place, cause, `Type ${said}${isDate ? " as a date" : ""}.`);
  }
  const cause = `${shownCell(cell)} is not ${must}; ${carefully ?? `it is taken as ${said}`}.`;
  const may = isDate ? [...new Set(hints)].map((day) => saidAs(day, true)) : [];
  const fix = may.length === 0 ? `Type ${must}.` : `Type ${may.join(" or ")} as a date.`;
  return fault("unusable cell", place, cause, fix);
}

function saidAs(value: unknown, isDate: boolean): string {
  if (isDate && typeof value === "number" && isDay(value)) return isoText(value);
  if (typeof value === "boolean") return value ? "yes" : "no";
  return typeof value === "number" || typeof value === "string" ? String(value) : "not stated";
}

/** What is told of the cells of some rows. */
export function toldOf<R>(rows: readonly InputRow<R>[]): Problem[] {
  return rows.flatMap(({ doubts }) => [...doubts.values()].map(({ problem }) => problem));
}
