import { type DateSystem, type Day, fromSerial, toSerial } from "../../core/day.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { textOf } from "../workbook/cells.ts";

/** One choice of the programme: its row on Setup, what it means, and what its value may be. */
export interface Setting<T> {
  /** Stands in the first column of Setup; the row is found again by it. */
  readonly label: string;
  readonly about: string;
  /** What a programme starts with, and what a blank or unusable cell means. */
  readonly usual: T;
  /** The value of a cell that holds something; null where it cannot be used. */
  readonly take: (value: CellValue, system: DateSystem) => T | null;
  /** The cell of a value. */
  readonly cell: (value: T, system: DateSystem) => CellValue;
  readonly format?: string;
  /** The defined name through which formulas read it; a setting without one is for jobs alone. */
  readonly name?: string;
}

/** What every declaration says. */
type Said<T> = Pick<Setting<T>, "label" | "about" | "usual">;
interface Limits {
  readonly from: number;
  readonly to: number;
}

/** A number between two limits, both included. */
export function numeric({ from, to, ...said }: Said<number> & Limits): Setting<number> {
  return { ...said, take: within(from, to), cell: (value) => value };
}

/** A whole number between two limits, both included. */
export function whole({ from, to, ...said }: Said<number> & Limits): Setting<number> {
  const inside = within(from, to);
  const take = (value: CellValue): number | null =>
    Number.isInteger(value) ? inside(value) : null;
  return { ...said, take, cell: (value) => value };
}

/** One of some words, whatever their case; null where nothing is set. */
export function choice<const T extends string, U extends T | null>({
  words,
  ...said
}: Said<U> & { readonly words: readonly T[] }): Setting<T | U> {
  const take = (value: CellValue): T | null =>
    words.find((word) => word === textOf(value).toLowerCase()) ?? null;
  return { ...said, take, cell: (value) => value };
}

/** Yes or no. */
export function yesNo(said: Said<boolean>): Setting<boolean> {
  const take = (value: CellValue): boolean | null => {
    const word = textOf(value).toLowerCase();
    return word === "yes" || word === "no" ? word === "yes" : null;
  };
  return { ...said, take, cell: (value) => (value ? "yes" : "no") };
}

/** A day, stored as the workbook counts days. */
export function date(said: Said<Day>): Setting<Day> {
  return {
    ...said,
    take: (value, system) => (typeof value === "number" ? fromSerial(value, system) : null),
    cell: toSerial,
    format: "yyyy-mm-dd",
  };
}

function within(from: number, to: number): (value: CellValue) => number | null {
  return (value) => (typeof value === "number" && value >= from && value <= to ? value : null);
}
