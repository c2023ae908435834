import { type DateSystem, isDay, isoText } from "../../core/day.ts";
import { type CellPlace, fault, struckOut } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { cellKey, type CellValue, type Sheet } from "../workbook/snapshot.ts";
import type { InputColumn, InputColumns } from "./column.ts";
import { type Heard, shownCell } from "./heard.ts";
import { headingColumn, type Layout } from "./layout.ts";
import { cellIn, lostHeading, lostHeadings } from "./lost-headings.ts";
import { readRows } from "./our-rows.ts";

const DATE_FORMAT = "yyyy-mm-dd";
const CLEAR = "Clear the row if it holds no longer, or take the line off.";

/** One row of a sheet that people fill in. */
export interface InputRow<R> {
  readonly row: number;
  /** What its cells say; where one cannot be read, what is careful. */
  readonly record: R;
  /** Cells that are not what they must be, each under its field. */
  readonly doubts: ReadonlyMap<keyof R, Doubt>;
  /** Fields whose cell holds something. */
  readonly filled: ReadonlySet<keyof R>;
  /** What is told of its sheet's headings; the same of every row. */
  readonly lost: readonly Problem[];
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
  const rows = readRows(sheet, layout);
  const heads = headsOf(sheet, layout, columns);
  const lost = heads.flatMap(({ told }) => told ?? []);
  const heard = heads.map((head) =>
    rows.map(({ row, values }) => hear(sheet, head, { row, values, system })),
  );
  return rows.map(({ row, values }, at) => {
    const doubts = new Map<keyof R, Doubt>();
    const record = heads.map(({ field, column, at: place, told }, which) => {
      const { heading } = column;
      const one = heard[which]?.[at];
      if (one === undefined) throw new Error(`${heading} was not heard`);
      if (one.as === "meant") return [field, one.value] as const;
      const cell = values.get(heading) ?? null;
      const certain = one.as === "text";
      const value = certain
        ? one.value
        : carefulIn(column, { cell, one, heard: heard[which] ?? [] });
      const hints = certain ? [] : one.hints;
      const there = { sheet: sheet.name, row, column: place, heading };
      const problem =
        told ??
        (isStruck(sheet, row, place)
          ? struckOut(there, CLEAR)
          : problemOf(column, { cell, value, certain, hints }, there));
      doubts.set(field, { heading, cell, certain, problem });
      return [field, value] as const;
    });
    const filled = new Set(
      heads.flatMap(({ field, column: { heading } }) => (values.has(heading) ? [field] : [])),
    );
    return { row, record: Object.fromEntries(record) as R, doubts, filled, lost };
  });
}

/** A column with where it stands; where its heading is lost, what is told of that and what may stand in its place. */
interface Head<R> {
  readonly field: keyof R;
  readonly column: InputColumn<R[keyof R]>;
  readonly at: number | null;
  readonly beside: readonly number[];
  readonly told: Problem | null;
}

function headsOf<R>(sheet: Sheet, layout: Layout, columns: InputColumns<R>): Head<R>[] {
  const lost = lostHeadings(sheet, layout);
  const fields = Object.entries(columns) as [keyof R, InputColumn<R[keyof R]>][];
  return fields.map(([field, column]) => {
    const { heading, must } = column;
    const one = lost.find((other) => other.heading === heading);
    const beside = one?.columns ?? [];
    const isIdle = must === "text" && beside.length === 0;
    const told = one === undefined || isIdle ? null : lostHeading(sheet, heading);
    return { field, column, at: headingColumn(sheet, heading), beside, told };
  });
}

interface InRow {
  readonly row: number;
  readonly values: ReadonlyMap<string, CellValue>;
  readonly system: DateSystem;
}

/** What a row says in a column: nothing sure where the heading is lost or the cell is struck through. */
function hear<R>(
  sheet: Sheet,
  { column, at, beside, told }: Head<R>,
  { row, values, system }: InRow,
): Heard<R[keyof R]> {
  const isStruckOut = column.must !== "text" && isStruck(sheet, row, at);
  const isSure = column.inPlace === true || (told === null && !isStruckOut);
  const cell = at === null ? cellIn(sheet, row, beside) : values.get(column.heading);
  // A formula without a result may be anything.
  const isOpen = cell === undefined && at !== null && sheet.formulas.has(cellKey(row, at));
  if (isOpen && column.must !== "text") return { as: "doubtful", hints: [] };
  const heard = column.hear(cell ?? undefined, system);
  if (isSure || (told === null && cell === undefined)) return heard;
  const { value } = heard as { readonly value?: unknown };
  const hints = heard.as === "doubtful" ? heard.hints : typeof value === "number" ? [value] : [];
  return { as: "doubtful", hints };
}

function isStruck({ struck }: Sheet, row: number, column: number | null): boolean {
  return column !== null && struck?.has(cellKey(row, column)) === true;
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
  const does = carefully ?? `it is taken as ${said}`;
  const cause = `${shownCell(cell)} is not ${must}; ${does}.`;
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
  const told = rows.flatMap(({ lost, doubts }) => [
    ...lost,
    ...[...doubts.values()].map(({ problem }) => problem),
  ]);
  return [...new Set(told)];
}
