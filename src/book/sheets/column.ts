import { type DateSystem, type Day, fromSerial, toSerial } from "../../core/day.ts";
import type { Choices } from "../workbook/plan.ts";
import { keyOf } from "../workbook/cells.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { amountOf, type LayoutColumn, type OurRow, textOf, YES_NO } from "./layout.ts";

/** A column that people fill in, complete: how it looks, what its cell means, how its cell is written. */
export interface InputColumn<T> extends LayoutColumn {
  /** What a cell says; undefined is a blank one. */
  readonly read: (value: CellValue | undefined, system: DateSystem) => T;
  readonly cell: (value: T, system: DateSystem) => CellValue;
}

type Looks = Omit<LayoutColumn, "input" | "formula">;

/** Text without outer spaces, "" for a blank cell. */
export function text(looks: Looks): InputColumn<string> {
  return { ...looks, read: textOf, cell: (value) => value || null };
}

/** One of our words, in small letters, however it was typed. */
export function word(looks: Looks): InputColumn<string> {
  return { ...looks, read: (value) => keyOf(textOf(value)), cell: (value) => value || null };
}

/** A number as it stands, null for anything else: never guessed. */
export function number(looks: Looks): InputColumn<number | null> {
  return {
    ...looks,
    read: (value) => (typeof value === "number" ? value : null),
    cell: (value) => value,
  };
}

/** A number as it stands; what is blank or none keeps its default. */
export function numberOr(usual: number, looks: Looks): InputColumn<number> {
  return {
    ...looks,
    read: (value) => (typeof value === "number" ? value : usual),
    cell: (value) => value,
  };
}

/** A number of at least 0, null for anything else. */
export function amount(looks: Looks): InputColumn<number | null> {
  return { ...looks, read: amountOf, cell: (value) => value };
}

/** A number of at least 0; what is blank or none keeps its default. */
export function amountOr(usual: number, looks: Looks): InputColumn<number> {
  return { ...looks, read: (value) => amountOf(value) ?? usual, cell: (value) => value };
}

/** A whole number of at least `least`, rounded up; what is blank or none keeps its default. */
export function countOr(usual: number, looks: Looks, least = 1): InputColumn<number> {
  const read = (value: CellValue | undefined): number =>
    Math.max(least, Math.ceil(amountOf(value) ?? usual));
  return { ...looks, read, cell: (value) => value };
}

/** A day, null for anything that is no date. */
export function date(looks: Omit<Looks, "format">): InputColumn<Day | null> {
  return {
    ...looks,
    format: "yyyy-mm-dd",
    read: (value, system) => (typeof value === "number" ? fromSerial(value, system) : null),
    cell: (value, system) => (value === null ? null : toSerial(value, system)),
  };
}

/** Yes or no; any other word counts as `usual`. */
export function yesNo(usual: boolean, looks: Omit<Looks, "choices">): InputColumn<boolean> {
  const other = usual ? "no" : "yes";
  const choices: Choices = YES_NO;
  return {
    ...looks,
    choices,
    read: (value) => (textOf(value).toLowerCase() === other ? !usual : usual),
    cell: (value) => (value ? "yes" : "no"),
  };
}

/** The columns of a kind of record, each under the field it holds. */
export type InputColumns<R> = { readonly [K in keyof R]: InputColumn<R[K]> };

/** The values of a row, each under its field. */
export function recordIn<R>(columns: InputColumns<R>, { values }: OurRow, system: DateSystem): R {
  const fields = Object.entries(columns) as [keyof R, InputColumn<R[keyof R]>][];
  return Object.fromEntries(
    fields.map(([field, { heading, read }]) => [field, read(values.get(heading), system)]),
  ) as R;
}

/** The cells of a record, in the order of the columns. */
export function cellsOf<R>(columns: InputColumns<R>, record: R, system: DateSystem): CellValue[] {
  const fields = Object.entries(columns) as [keyof R, InputColumn<R[keyof R]>][];
  return fields.map(([field, { cell }]) => cell(record[field], system));
}

/** The columns in order, for a layout. */
export function columnsIn<R>(columns: InputColumns<R>): readonly LayoutColumn[] {
  return Object.values(columns);
}
