import { answered } from "../languages/answers.ts";
import { civilDay, type DateSystem, type Day, fromSerial, toSerial } from "../../core/day.ts";
import { textOf } from "../workbook/cells.ts";
import { numberMeant, numbersIn, type Units } from "../workbook/number-text.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** One choice of the programme: its row on Setup, what it means, and what its value may be. */
export interface Setting<T> {
  /** Stands in the first column of Setup; the row is found again by it. */
  readonly label: string;
  /** What a programme starts with, and what a blank cell means. */
  readonly usual: T;
  /** What the cell must be, to stand behind "must be". */
  readonly must: string;
  /** The value of a cell that holds something; null where it cannot be used. */
  readonly take: (value: CellValue, system: DateSystem) => T | null;
  /** The value of a text whose meaning is certain; formulas cannot read it, so not of a setting with a name. */
  readonly textMeans?: (text: string) => T | null;
  /** What applies where a cell cannot be used, given numbers it may mean. */
  readonly careful: (hints: readonly number[]) => T;
  /** It came after the first layout of Setup, which may be without its row; that of any other stands there once. */
  readonly later?: true;
  /** Sums of money that rest on a cell that cannot be used are given out by no job. */
  readonly money?: true;
  /** The cell of a value. */
  readonly cell: (value: T, system: DateSystem) => CellValue;
  readonly format?: string;
  /** The defined name through which formulas read it; a setting without one is for jobs alone. */
  readonly name?: string;
  /** Of a setting with a name: a formula that gives what `take` gives for a cell, and an error for null. */
  readonly taken?: (cell: string) => string;
}

/** What every declaration says. */
type Said<T> = Pick<Setting<T>, "label" | "usual"> & {
  readonly careful: T | ((hints: readonly number[]) => T);
  readonly money?: true;
  readonly later?: true;
};
interface Limits {
  readonly from: number;
  readonly to: number;
  readonly units?: Units;
}

/** A number between two limits, both included. */
export function numeric(said: Said<number> & Limits): Setting<number> {
  return limited(said, false);
}

/** A whole number between two limits, both included. */
export function whole(said: Said<number> & Limits): Setting<number> {
  return limited(said, true);
}

function limited(
  { from, to, units, careful, ...said }: Said<number> & Limits,
  isWhole: boolean,
): Setting<number> {
  const fits = (value: number): boolean =>
    value >= from && value <= to && (!isWhole || Number.isInteger(value));
  return {
    ...said,
    must: `${isWhole ? "a whole number" : "a number"} from ${from} to ${to}`,
    take: (value) => (typeof value === "number" && fits(value) ? value + 0 : null),
    textMeans: (text) => {
      const found = numberMeant(text, units);
      return found !== null && fits(found) ? found : null;
    },
    careful: (hints) =>
      typeof careful === "number" ? careful : careful(hints.filter((one) => fits(one))),
    taken: (cell) =>
      `IF(ISLOGICAL(${cell}),NA(),IF(ISNUMBER(${cell}),IF(AND(${cell}>=${from},${cell}<=${to}${isWhole ? `,INT(${cell})=${cell}` : ""}),${cell},NA()),NA()))`,
    cell: (value) => value,
  };
}

/** One of some words, whatever their case; null where nothing is set. */
export function choice<const T extends string, U extends T | null>({
  words,
  careful,
  ...said
}: Said<U> & { readonly words: readonly T[]; readonly careful: T | U }): Setting<T | U> {
  const take = (value: CellValue): T | null =>
    words.find((word) => word === textOf(value).toLowerCase()) ?? null;
  const must = words.join(" or ");
  return { ...said, must, take, careful: () => careful, cell: (value) => value };
}

/** Yes or no. */
export function yesNo({
  careful,
  ...said
}: Said<boolean> & { readonly careful: boolean }): Setting<boolean> {
  const take = (value: CellValue): boolean | null => answered(textOf(value));
  const cell = (value: boolean): CellValue => (value ? "yes" : "no");
  return { ...said, must: "yes or no", take, careful: () => careful, cell };
}

const FIRST = civilDay(2000, 1, 1);
const LAST = civilDay(2099, 12, 31);

/** A day, stored as the workbook counts days. */
export function date({ careful, ...said }: Said<Day> & { readonly careful: Day }): Setting<Day> {
  return {
    ...said,
    must: "a date from 2000 to 2099",
    take: (value, system) => {
      const day = typeof value === "number" ? fromSerial(value, system) : null;
      return day !== null && day >= FIRST && day <= LAST ? day : null;
    },
    careful: () => careful,
    taken: (cell) =>
      // TRUE is 1, text and a blank are 0: no date. Every row reads it often, so it is short.
      `IF(AND(N(${cell})>=DATE(2000,1,1),N(${cell})<DATE(2100,1,1)),${cell},NA())`,
    cell: toSerial,
    format: "yyyy-mm-dd",
  };
}

/** Numbers that a cell may mean. */
export function hintsIn(value: CellValue): number[] {
  if (typeof value === "number") return [value];
  return typeof value === "string" ? numbersIn(value) : [];
}
