import { numberMeant } from "../book/workbook/number-text.ts";
import { day, type Day } from "../core/day.ts";
import { InputError } from "../core/errors.ts";
import { UsageError } from "./io.ts";

/** An option of a command: how it is written, what it does, and how its value is read. */
export interface Option<T> {
  readonly takes: "nothing" | "one" | "several";
  /** What represents its value in help, such as 12 or CODE; "" where it takes nothing. */
  readonly shows: string;
  readonly about: string;
  readonly short?: string;
  /** The heading it stands under in help; without one, under none. */
  readonly heading?: string;
  /** Gives the value, null or false where nothing was said. Throws a UsageError with a sentence. */
  readonly read: (said: readonly string[], name: string, command: string) => T;
}

/** Options by the names they are given with. */
export type Options = Readonly<Record<string, Option<unknown>>>;

/** What a command gets of its options: their values, read and checked. */
export type Given<O extends Options> = {
  readonly [K in keyof O]: O[K] extends Option<infer T> ? T : never;
};

/** An option that is given or not. */
export function flag(about: string): Option<boolean> {
  return { takes: "nothing", shows: "", about, read: (said) => said.length > 0 };
}

/** An option with a value of any kind; said twice, the last one holds. */
export function one<T>(
  shows: string,
  about: string,
  read: (text: string, name: string) => T,
): Option<T | null> {
  const last = (said: readonly string[], name: string): T | null => {
    const text = said.at(-1);
    return text === undefined ? null : read(text, name);
  };
  return { takes: "one", shows, about, read: last };
}

/** An option that may be said several times. */
export function each<T>(
  shows: string,
  about: string,
  read: (text: string, name: string) => T,
): Option<readonly T[]> {
  const all = (said: readonly string[], name: string): readonly T[] =>
    said.map((text) => read(text, name));
  return { takes: "several", shows, about, read: all };
}

export function text(shows: string, about: string): Option<string | null> {
  return one(shows, about, (said) => said);
}

export function texts(shows: string, about: string): Option<readonly string[]> {
  return each(shows, about, (said) => said);
}

export function date(about: string): Option<Day | null> {
  return one("DATE", about, dayOf);
}

/** The first day of a month. */
export function month(about: string): Option<Day | null> {
  return one("YYYY-MM", about, (said, name) => {
    if (/^\d{4}-(?:0[1-9]|1[0-2])(?:-01)?$/.test(said))
      return dayOf(`${said.slice(0, 7)}-01`, name);
    throw new UsageError(`--${name} must be a month as yyyy-mm, got "${said}"`);
  });
}

type Limits = readonly [least: number, most: number];

export function number(shows: string, about: string, limits: Limits): Option<number | null> {
  return one(shows, about, (said, name) => numberIn(said, name, limits));
}

export function whole(shows: string, about: string, limits: Limits): Option<number | null> {
  return one(shows, about, (said, name) => {
    const found = numberIn(said, name, limits);
    if (!Number.isInteger(found))
      throw new UsageError(`--${name} must be a whole number, got ${found}`);
    return found;
  });
}

/** One of some words. */
export function choice<const T extends string>(
  words: readonly T[],
  about: string,
): Option<T | null> {
  return one(words.join("|"), about, (said, name) => oneOf(said, name, words));
}

/** The same option with what holds where nothing was said. */
export function usual<T>(value: NoInfer<T>, option: Option<T | null>): Option<T> {
  return { ...option, read: (...said) => option.read(...said) ?? value };
}

/** Options that stand under a heading of their own in help. */
export function under<const O extends Options>(heading: string, options: O): O {
  return Object.fromEntries(
    Object.entries(options).map(([name, option]) => [name, { ...option, heading }]),
  ) as O;
}

/** One of some words said with an option. */
export function oneOf<T extends string>(said: string, name: string, words: readonly T[]): T {
  const found = words.find((word) => word === said);
  if (found !== undefined) return found;
  throw new UsageError(`--${name} must be ${words.join(" or ")}, got "${said}"`);
}

/** A number said with an option, within limits. */
export function numberIn(said: string, name: string, [least, most]: Limits): number {
  const plain = said.trim() === "" ? NaN : Number(said);
  // A decimal comma is read as everywhere; "1,500" may be two numbers and is refused.
  const found = Number.isNaN(plain) ? (numberMeant(said) ?? NaN) : plain;
  if (found >= least && found <= most) return found;
  throw new UsageError(`--${name} must be a number from ${least} to ${most}, got "${said}"`);
}

function dayOf(said: string, name: string): Day {
  try {
    return day(said);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new UsageError(`--${name} must be a date as yyyy-mm-dd, got "${said}"`);
  }
}
