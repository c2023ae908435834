import { parseArgs, type ParseArgsConfig } from "node:util";
import { day, type Day } from "../core/day.ts";
import { InputError } from "../core/errors.ts";
import { UsageError } from "./io.ts";
import { type OptionName, OWN_OPTIONS, takes } from "./options.ts";

/** What was asked for, checked. */
export interface Wish {
  /** The words that are no options. */
  readonly words: readonly string[];
  readonly json: boolean;
  readonly dryRun: boolean;
  readonly force: boolean;
  readonly inPlace: boolean;
  readonly help: boolean;
  readonly debug: boolean;
  readonly output: string | null;
  readonly reportDate: Day | null;
  readonly dayOrder: "dmy" | "mdy" | null;
  /** Field or place to heading or name, as said with --match. */
  readonly matches: ReadonlyMap<string, string>;
  /** What was said with an option of the command's own, null when it was not said. */
  readonly text: (option: OptionName) => string | null;
  readonly texts: (option: OptionName) => readonly string[];
  readonly flag: (option: OptionName) => boolean;
}

type Options = NonNullable<ParseArgsConfig["options"]>;

const COMMON = {
  json: { type: "boolean" },
  "dry-run": { type: "boolean", short: "n" },
  force: { type: "boolean" },
  "in-place": { type: "boolean" },
  help: { type: "boolean", short: "h" },
  debug: { type: "boolean" },
  output: { type: "string", short: "o" },
  "report-date": { type: "string" },
  "day-order": { type: "string" },
  match: { type: "string", multiple: true },
} as const satisfies Options;

const OWN: Options = Object.fromEntries(
  [...OWN_OPTIONS].map(([name, kind]) => [
    name,
    kind === "flag" ? { type: "boolean" } : { type: "string", multiple: true },
  ]),
);

/** The command line taken apart; wrong use is a UsageError. */
export function readArguments(args: readonly string[]): Wish {
  const { values, positionals } = parsed(args);
  const texts = (name: string): readonly string[] => {
    const value = values[name];
    return Array.isArray(value) ? value.filter((one) => typeof one === "string") : [];
  };
  const text = (name: string): string | null => {
    const value = values[name];
    return typeof value === "string" ? value : (texts(name).at(-1) ?? null);
  };
  const flag = (name: string): boolean => values[name] === true;
  refuseForeign(positionals[0], Object.keys(values));
  const dayOrder = text("day-order");
  return {
    words: positionals,
    json: flag("json"),
    dryRun: flag("dry-run"),
    force: flag("force"),
    inPlace: flag("in-place"),
    help: flag("help"),
    debug: flag("debug"),
    output: text("output"),
    reportDate: dateOf("report-date", text("report-date")),
    dayOrder: dayOrder === null ? null : oneOf("day-order", dayOrder, ["dmy", "mdy"] as const),
    matches: new Map(texts("match").map(matchOf)),
    text,
    texts,
    flag,
  };
}

function parsed(args: readonly string[]) {
  try {
    const options: Options = { ...COMMON, ...OWN };
    return parseArgs({ args: [...args], options, allowPositionals: true });
  } catch (error) {
    // parseArgs explains itself in several sentences; the first says what is wrong.
    const message = error instanceof Error ? error.message : String(error);
    throw new UsageError(message.split(". ")[0] ?? message);
  }
}

/** An option another command takes would be an option ignored. */
function refuseForeign(command: string | undefined, given: readonly string[]): void {
  if (command === undefined) return;
  const foreign = given.find((name) => OWN_OPTIONS.has(name) && !takes(command, name));
  if (foreign !== undefined) throw new UsageError(`${command} takes no --${foreign}`);
}

/** One of some words said with an option. */
export function oneOf<T extends string>(option: string, value: string, words: readonly T[]): T {
  const found = words.find((word) => word === value);
  if (found === undefined) {
    throw new UsageError(`--${option} must be ${words.join(" or ")}, got "${value}"`);
  }
  return found;
}

/** A date said with an option. */
export function dateOf(option: string, text: string | null): Day | null {
  if (text === null) return null;
  try {
    return day(text);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new UsageError(`--${option} must be a date as yyyy-mm-dd, got "${text}"`);
  }
}

/** A number said with an option, within bounds. */
export function numberOf(
  option: string,
  text: string | null,
  [least, most]: readonly [number, number],
): number | null {
  if (text === null) return null;
  const number = text.trim() === "" ? NaN : Number(text);
  if (!(number >= least && number <= most)) {
    throw new UsageError(`--${option} must be a number from ${least} to ${most}, got "${text}"`);
  }
  return number;
}

/** Places are said bare (register=Equipment), fields of the register likewise (device=Asset). */
function matchOf(text: string): readonly [string, string] {
  const at = text.indexOf("=");
  if (at <= 0 || at === text.length - 1) {
    throw new UsageError(`--match must be field=heading, such as device="Unit no", got "${text}"`);
  }
  const key = text.slice(0, at).trim();
  const isPlace = ["register", "counts", "header row"].includes(key);
  return [isPlace ? key : `column ${key}`, text.slice(at + 1).trim()];
}
