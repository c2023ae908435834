import { parseArgs } from "node:util";
import { day, type Day } from "../core/day.ts";
import { InputError } from "../core/errors.ts";
import type { Mode } from "../book/columns.ts";
import { UsageError } from "./io.ts";

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
  readonly mode: Mode;
  readonly reportDate: Day | null;
  readonly dayOrder: "dmy" | "mdy" | null;
  /** Field or place to heading or name, as said with --match. */
  readonly matches: ReadonlyMap<string, string>;
}

const OPTIONS = {
  json: { type: "boolean" },
  "dry-run": { type: "boolean", short: "n" },
  force: { type: "boolean" },
  "in-place": { type: "boolean" },
  help: { type: "boolean", short: "h" },
  debug: { type: "boolean" },
  output: { type: "string", short: "o" },
  as: { type: "string" },
  "report-date": { type: "string" },
  "day-order": { type: "string" },
  match: { type: "string", multiple: true },
} as const;

const MODES: readonly Mode[] = ["portable", "live", "values"];

/** The command line taken apart; wrong use is a UsageError. */
export function readArguments(args: readonly string[]): Wish {
  const { values, positionals } = parsed(args);
  return {
    words: positionals,
    json: values.json ?? false,
    dryRun: values["dry-run"] ?? false,
    force: values.force ?? false,
    inPlace: values["in-place"] ?? false,
    help: values.help ?? false,
    debug: values.debug ?? false,
    output: values.output ?? null,
    mode: oneOf("--as", values.as ?? "portable", MODES),
    reportDate: dateOf(values["report-date"]),
    dayOrder:
      values["day-order"] === undefined
        ? null
        : oneOf("--day-order", values["day-order"], ["dmy", "mdy"] as const),
    matches: new Map((values.match ?? []).map(matchOf)),
  };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true });
  } catch (error) {
    // parseArgs explains itself in several sentences; the first says what is wrong.
    const message = error instanceof Error ? error.message : String(error);
    throw new UsageError(message.split(". ")[0] ?? message);
  }
}

function oneOf<T extends string>(option: string, value: string, words: readonly T[]): T {
  const found = words.find((word) => word === value);
  if (found === undefined) {
    throw new UsageError(`${option} must be ${words.join(" or ")}, got "${value}"`);
  }
  return found;
}

function dateOf(text: string | undefined): Day | null {
  if (text === undefined) return null;
  try {
    return day(text);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new UsageError(`--report-date must be a date as yyyy-mm-dd, got "${text}"`);
  }
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
