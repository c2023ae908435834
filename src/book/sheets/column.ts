import { answered } from "../languages/answers.ts";
import { civilDay, type DateSystem, type Day, fromSerial, toSerial } from "../../core/day.ts";
import { isCellError, type CellValue } from "../workbook/snapshot.ts";
import { numberMeant, numbersIn, type Units } from "../workbook/number-text.ts";
import type { Choices } from "../workbook/plan.ts";
import type { DoubtfulCell, Heard } from "./heard.ts";
import { type LayoutColumn, textOf, YES_NO } from "./layout.ts";
import { type DateText, readDateText } from "../headings/dates.ts";
import { dayMeant } from "../headings/day-order.ts";
import { keyOf } from "../workbook/cells.ts";

/**
 * A column that people fill in, complete: how it looks, what its cell means, how its cell is written, and
 * what is careful where its cell cannot be read.
 */
export interface InputColumn<T> extends LayoutColumn {
  /** What a cell must be, to stand behind "must be". */
  readonly must: string;
  /** What a cell says; undefined is a blank one. */
  readonly hear: (value: CellValue | undefined, system: DateSystem) => Heard<T>;
  /** What applies where a cell cannot be read. */
  readonly careful: (doubt: DoubtfulCell<T>) => T;
  /** What that means, as a clause of a sentence; without it the value itself is named. */
  readonly carefully?: string;
  readonly cell: (value: T, system: DateSystem) => CellValue;
}

type Looks = Omit<LayoutColumn, "input" | "formula">;

/** Text without outer spaces, "" for a blank cell. */
export function text(looks: Looks): InputColumn<string> {
  return {
    ...looks,
    must: "text",
    hear: (value) =>
      (value !== undefined && isCellError(value)) || typeof value === "boolean"
        ? UNHEARD
        : meant(textOf(value)),
    careful: ({ cell }) => (isCellError(cell) ? cell.error : textOf(cell)),
    carefully: "it is used as it shows",
    cell: (value) => value || null,
  };
}

/** One of our words, in small letters, however it was typed. */
export function word(looks: Looks): InputColumn<string> {
  const { hear, careful, ...column } = text(looks);
  return {
    ...column,
    hear: (value, system) => {
      const heard = hear(value, system);
      return heard.as === "doubtful" ? heard : meant(keyOf(heard.value));
    },
    careful: (doubt) => keyOf(careful(doubt)),
  };
}

interface NumberLooks<T> extends Looks {
  readonly choices: Extract<Choices, { readonly kind: "number" }>;
  /** What a blank means. */
  readonly blank: T;
  readonly units?: Units;
  /** Reads a text whose meaning is certain; by default a number with one of the units. */
  readonly meant?: (text: string) => number | null;
  readonly careful: (doubt: DoubtfulCell<T>) => T;
  readonly carefully?: string;
}

/** A number within the limits of its choices, with a default. */
export function number(looks: NumberLooks<number>): InputColumn<number> {
  return { ...looks, ...numeric(looks) };
}

/** A number within the limits of its choices; null where none is stated. */
export function numberIfAny(looks: NumberLooks<number | null>): InputColumn<number | null> {
  return { ...looks, ...numeric<number | null>(looks) };
}

function numeric<T extends number | null>({
  choices,
  blank,
  units,
  meant: read = (said) => numberMeant(said, units),
}: NumberLooks<T>): Pick<InputColumn<number | T>, "must" | "hear" | "cell"> {
  const { from, to, whole } = choices;
  const fits = (value: number): boolean =>
    value >= Number(from) && value <= Number(to) && (!whole || Number.isInteger(value));
  return {
    must: `${whole ? "a whole number" : "a number"} from ${from} to ${to}`,
    hear: (value) => {
      if (value === undefined || value === null) return meant(blank);
      if (typeof value === "number") {
        // A negative nought is a nought.
        return fits(value)
          ? meant(value + 0)
          : { as: "doubtful", hints: hintsAmong([value], choices) };
      }
      if (typeof value !== "string") return UNHEARD;
      const said = read(value);
      if (said !== null && fits(said)) return { as: "text", value: said };
      return {
        as: "doubtful",
        hints: hintsAmong(said === null ? numbersIn(value) : [said], choices),
      };
    },
    cell: (value) => value,
  };
}

/** Numbers that a cell may mean, within the limits; of a fraction where there is none, both neighbours. */
function hintsAmong(
  found: readonly number[],
  { from, to, whole }: NumberLooks<number>["choices"],
): number[] {
  return found
    .flatMap((one) => (whole ? [Math.floor(one), Math.ceil(one)] : [one]))
    .filter((one) => one >= Number(from) && one <= Number(to));
}

interface DateLooks extends Omit<Looks, "format"> {
  /** Whether text whose meaning is certain is read: not where formulas, which cannot, read the cell too. */
  readonly readsText: boolean;
  /** What applies where a cell cannot be read, given the days it may mean. */
  readonly careful?: (days: readonly Day[]) => Day | null;
  readonly carefully?: string;
}

/** The years our dates lie in. */
const FIRST = civilDay(2000, 1, 1);
const LAST = civilDay(2099, 12, 31);

/** A day, null for a blank. */
export function date({
  careful = () => null,
  readsText,
  ...looks
}: DateLooks): InputColumn<Day | null> {
  return {
    ...looks,
    must: "a date from 2000 to 2099",
    format: "yyyy-mm-dd",
    hear: (value, system) => {
      if (value === undefined || value === null) return meant(null);
      if (typeof value === "number") {
        const day = fromSerial(value, system);
        return day !== null && isOurs(day) ? meant(day) : UNHEARD;
      }
      const said = typeof value === "string" ? readDateText(value) : null;
      const day = said === null ? null : dayMeant(said, null);
      if (readsText && day !== null && isOurs(day)) return { as: "text", value: day };
      return { as: "doubtful", hints: daysMeant(said).filter(isOurs) };
    },
    careful: ({ hints }) => careful(hints as readonly Day[]),
    cell: (value, system) => (value === null ? null : toSerial(value, system)),
  };
}

function isOurs(day: Day): boolean {
  return day >= FIRST && day <= LAST;
}

/** Every day that a text may mean. */
function daysMeant(said: DateText | null): Day[] {
  if (said === null) return [];
  if (said.kind === "day") return [said.date];
  if (said.kind === "month") return [said.first];
  return [...new Set([said.dmy, said.mdy, said.ymd])].filter((day) => day !== null);
}

interface YesNoLooks extends Omit<Looks, "choices"> {
  readonly careful: (doubt: DoubtfulCell<boolean>) => boolean;
  readonly carefully?: string;
}

/** Yes or no; a blank counts as `usual`. */
export function yesNo(usual: boolean, looks: YesNoLooks): InputColumn<boolean> {
  const choices: Choices = YES_NO;
  return {
    ...looks,
    choices,
    must: "yes or no",
    hear: (value) => {
      if (value === undefined || value === null) return meant(usual);
      // Formulas compare the word as it stands, whatever its case.
      const said = typeof value === "string" ? value.toLowerCase() : "";
      if (said === "yes" || said === "no") return meant(said === "yes");
      const word = answered(textOf(value));
      return word === null ? UNHEARD : { as: "text", value: word };
    },
    cell: (value) => (value ? "yes" : "no"),
  };
}

/** What is as it must be. */
export function meant<T>(value: T): Heard<T> {
  return { as: "meant", value };
}

/** Nothing at all is heard. */
export const UNHEARD: Heard<never> = { as: "doubtful", hints: [] };

/** The columns of a kind of record, each under the field it holds. */
export type InputColumns<R> = { readonly [K in keyof R]: InputColumn<R[K]> };

/** The cells of a record, in the order of the columns. */
export function cellsOf<R>(columns: InputColumns<R>, record: R, system: DateSystem): CellValue[] {
  const fields = Object.entries(columns) as [keyof R, InputColumn<R[keyof R]>][];
  return fields.map(([field, { cell }]) => cell(record[field], system));
}

/** The columns in order, for a layout. */
export function columnsIn<R>(columns: InputColumns<R>): readonly LayoutColumn[] {
  return Object.values(columns);
}
