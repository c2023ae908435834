import { registerKey } from "../book/records/registers.ts";
import { parseArgs, type ParseArgsConfig } from "node:util";
import type { Day } from "../core/day.ts";
import { UsageError } from "./io.ts";
import { choice, date, each, flag, type Given, type Options, text } from "./option.ts";

/** The options that every command takes, in the order help lists them. */
export const COMMON = {
  output: { ...text("OUT", "where to write; never the workbook itself"), short: "o" },
  "in-place": flag("change the workbook; a dated copy is kept beside it, one a day and command"),
  "report-date": date("judge as of this day (yyyy-mm-dd) instead of today"),
  match: each(
    "FIELD=HEADING",
    "this column is that field; register=SHEET (again for each further one) and counts=SHEET name sheets",
    matchOf,
  ),
  "day-order": choice(["dmy", "mdy"], "how to read text dates that fit both orders"),
  "dry-run": { ...flag("print the plan, write nothing"), short: "n" },
  json: flag("the result in machine-readable form"),
  force: flag(
    "overwrite a file, a workbook open elsewhere or write-protected, a protected sheet, or constants typed over formulas",
  ),
  help: { ...flag("this help, or help on a command"), short: "h" },
} as const satisfies Options;

/** What was asked for besides a command's own options, checked. */
export interface Request {
  /** The command's name. */
  readonly command: string;
  readonly json: boolean;
  readonly dryRun: boolean;
  readonly force: boolean;
  readonly inPlace: boolean;
  readonly output: string | null;
  readonly reportDate: Day | null;
  readonly dayOrder: "dmy" | "mdy" | null;
  /** Field or place to heading or name, as said with --match. */
  readonly matches: ReadonlyMap<string, string>;
}

/** The command line taken apart, nothing in it checked yet. */
export interface Line {
  /** The words that are no options. */
  readonly words: readonly string[];
  /** What was said with each option. */
  readonly said: ReadonlyMap<string, readonly string[]>;
}

/** Takes the command line apart; `own` are the options of all commands. */
export function lineOf(args: readonly string[], own: readonly Options[]): Line {
  const { values, positionals } = parsed(args, parserOptions([COMMON, ...own]));
  const said = new Map(
    Object.entries(values).map(([name, value]): [string, string[]] => [
      name,
      Array.isArray(value) ? value.map(String) : [String(value)],
    ]),
  );
  return { words: positionals, said };
}

type ParserOptions = NonNullable<ParseArgsConfig["options"]>;

/** The options as the parser wants them: the same name is a flag everywhere, or nowhere. */
function parserOptions(all: readonly Options[]): ParserOptions {
  const found: ParserOptions = {};
  for (const [name, { takes, short }] of all.flatMap((options) => Object.entries(options))) {
    const type = takes === "nothing" ? "boolean" : "string";
    if (found[name] !== undefined && found[name].type !== type) {
      throw new Error(`--${name} is a flag of one command and takes a value in another`);
    }
    found[name] ??= { type, multiple: true, ...(short === undefined ? {} : { short }) };
  }
  return found;
}

function parsed(args: readonly string[], options: ParserOptions) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true });
  } catch (error) {
    // parseArgs explains itself in several sentences; the first says what is wrong.
    const message = error instanceof Error ? error.message : String(error);
    throw new UsageError(message.split(". ")[0] ?? message);
  }
}

/** The values of some options of a line, each read as it is declared. */
export function givenBy<O extends Options>(options: O, line: Line, command: string): Given<O> {
  return Object.fromEntries(
    Object.entries(options).map(([name, option]) => [
      name,
      option.read(line.said.get(name) ?? [], name, command),
    ]),
  ) as Given<O>;
}

/** What every command is told. */
export function requestOf(line: Line, command: string): Request {
  const given = givenBy(COMMON, line, command);
  return {
    command,
    json: given.json,
    dryRun: given["dry-run"],
    force: given.force,
    inPlace: given["in-place"],
    output: given.output,
    reportDate: given["report-date"],
    dayOrder: given["day-order"],
    matches: new Map(numbered(given.match)),
  };
}

/** A register said again is a further one. */
function numbered(matches: readonly (readonly [string, string])[]): (readonly [string, string])[] {
  let registers = 0;
  return matches.map(([key, value]) => [
    key === "register" ? registerKey((registers += 1) - 1) : key,
    value,
  ]);
}

/** Places are said bare (register=Equipment), fields of the register likewise (device=Asset). */
function matchOf(said: string): readonly [string, string] {
  const at = said.indexOf("=");
  if (at <= 0 || at === said.length - 1) {
    throw new UsageError(`--match must be field=heading, such as device="Unit no", got "${said}"`);
  }
  const key = said.slice(0, at).trim();
  const isPlace = ["register", "counts", "header row"].includes(key);
  return [isPlace ? key : `column ${key}`, said.slice(at + 1).trim()];
}
