import { type Day, isDay } from "../src/core/day.ts";
import { InputError } from "../src/core/errors.ts";

/** What an argument of each kind reaches the arithmetic as. */
interface Kinds {
  readonly number: number;
  readonly whole: number;
  readonly date: Day;
  readonly flag: boolean;
  readonly text: string;
  readonly weekend: number | string;
}

/** One argument of a worksheet function, declared. */
export interface Arg {
  readonly kind: keyof Kinds;
  /** What it is, with unit, range and default, for the person who fills it in. */
  readonly about: string;
  /** Smallest and largest number taken. */
  readonly least?: number;
  readonly most?: number;
  /** "row": one cell or a column, answered row by row; "range": any cells, taken together; else one cell. */
  readonly takes?: "row" | "range";
  /** May be left out, or be blank. */
  readonly optional?: true;
  /** What stands in for an optional argument that is not given; null when there is none. */
  readonly default?: number | string | boolean;
  /** A blank of a row or range argument is no fault and reaches the arithmetic as null. */
  readonly blank?: "kept";
  /** A zero cannot be told from a blank cell on every host and is taken for one. */
  readonly zero?: "blank";
  /** Faults are the matter of the function: numbers and text arrive as they stand, TRUE and FALSE as text, blanks as null. */
  readonly raw?: true;
}

/** Arguments by name, in their order. */
export type Args = Readonly<Record<string, Arg>>;

type ReadOne<A extends Arg> = A extends { raw: true }
  ? number | string | null
  : A extends { default: unknown }
    ? Kinds[A["kind"]]
    : A extends { optional: true } | { blank: "kept" }
      ? Kinds[A["kind"]] | null
      : Kinds[A["kind"]];

/** What the arithmetic is given for an argument. */
export type Read<A extends Arg> = A extends { takes: "range"; blank: "kept" }
  ? (Kinds[A["kind"]] | null)[]
  : A extends { takes: "range" }
    ? Kinds[A["kind"]][]
    : ReadOne<A>;

type Reader = (plain: unknown, arg: Arg) => Kinds[keyof Kinds] | null;

const readNumber: Reader = (plain, arg) =>
  typeof plain === "number" && fits(plain, arg) ? plain : null;

const readText: Reader = (plain) =>
  typeof plain === "string" || typeof plain === "number" ? String(plain) : null;

/** How a cell that is not blank is read; null where it is no such thing. */
const readers: Readonly<Record<keyof Kinds, Reader>> = {
  number: readNumber,
  whole: readNumber,
  // A time of day is dropped, as the native functions for dates do.
  date: (plain) =>
    typeof plain === "number" && isDay(Math.floor(plain)) ? Math.floor(plain) : null,
  flag: (plain) => (plain === 1 ? true : typeof plain === "boolean" ? plain : null),
  text: readText,
  weekend: (plain, arg) => (typeof plain === "number" ? plain : readText(plain, arg)),
};

/**
 * One cell read as its argument asks: the value, or null where it is blank and nothing stands in.
 *
 * Hosts hand over a blank cell as null, "" or 0; all three are blank for dates, optional arguments
 * and those that say so. `shift` is added to dates: the days by which a workbook counts otherwise.
 */
export function readCell(cell: unknown, arg: Arg, name: string, shift: number): unknown {
  let plain = typeof cell === "object" ? unwrap(cell) : cell;
  if (plain === null || plain === undefined || plain === "" || (plain === 0 && zeroIsBlank(arg))) {
    return arg.default ?? null;
  }
  if (arg.kind === "date" && typeof plain === "number") plain += shift;
  if (arg.raw && isRaw(plain)) return typeof plain === "boolean" ? String(plain) : plain;
  const value = readers[arg.kind](plain, arg);
  if (value === null) throw new InputError(name, requirement(arg), plain);
  return value;
}

function isRaw(plain: unknown): plain is number | string | boolean {
  return ["number", "string", "boolean"].includes(typeof plain);
}

function zeroIsBlank(arg: Arg): boolean {
  return arg.kind === "date" || arg.optional === true || arg.zero === "blank";
}

function fits(value: number, { kind, least = -Infinity, most = Infinity }: Arg): boolean {
  const sort = kind === "whole" ? Number.isInteger(value) : Number.isFinite(value);
  return sort && value >= least && value <= most;
}

/** The value inside a host's wrapping; an error as the text it shows. */
function unwrap(cell: object | null): unknown {
  if (cell === null || Array.isArray(cell)) return cell;
  const { basicValue, error, code }: { basicValue?: unknown; error?: unknown; code?: unknown } =
    cell;
  return basicValue ?? error ?? code ?? "an unknown kind of value";
}

/** What an argument must be, in words. */
export function requirement({ kind, least, most }: Arg): string {
  if (kind === "date") return "a date from 1900-03-01 on";
  if (kind === "flag") return "TRUE or FALSE";
  if (kind === "text") return "text";
  if (kind === "weekend") return "a weekend code";
  const sort = kind === "whole" ? "a whole number" : "a number";
  if (least === undefined) return most === undefined ? sort : `${sort} up to ${most}`;
  return most === undefined ? `${sort} of at least ${least}` : `${sort} from ${least} to ${most}`;
}
