import { type CellError, isRows, type Result } from "../../functions/answer.ts";
import { type Definition, NAMESPACE, withDates } from "../../functions/define.ts";
import { isoOf, signature } from "../../functions/help.ts";
import { functions } from "../../functions/index.ts";
import { type Day, day } from "../core/day.ts";
import { InputError } from "../core/errors.ts";
import { linesText, oneLine } from "./shown.ts";

/** Where calc reads and writes; texts are written as they stand, line ends included. */
interface Streams {
  out(text: string): void;
  err(text: string): void;
  lines(): AsyncIterable<string>;
}

/** A call that cannot be made: told on stderr, exit code 2. */
interface Misuse {
  readonly misuse: string;
}

const USAGE = `sparespan calc NAME [ARG…] [--json] [--dates]   one worksheet function
sparespan calc - [--dates]                      one JSON array per line from stdin
sparespan calc --list                           all functions
`;

const OPTIONS = ["--json", "--dates", "--list"];

/** Results of a stream are written in pieces of about this many characters. */
const PIECE = 1 << 16;

const ISO_DATE = /^\d{4}-\d{2}-\d{2}$/;
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** A line of calc -: a function's name and its cells. What a cell may hold is the function's to say. */
function isCall(line: unknown): line is readonly [string, ...unknown[]] {
  return Array.isArray(line) && typeof line[0] === "string";
}

const byName = new Map<string, Definition>(functions.map((one) => [one.id, one]));

/**
 * Runs worksheet functions in the shell.
 *
 * Gives the exit code: 0 with a value, 1 with a cell error, 2 for an unknown function or wrong use.
 */
export async function calc(args: readonly string[], io: Streams): Promise<number> {
  const options = args.filter((arg) => OPTIONS.includes(arg));
  const [name, ...words] = args.filter((arg) => !OPTIONS.includes(arg));
  const dates = options.includes("--dates");
  if (options.includes("--list")) {
    for (const one of functions) io.out(`${signature(one)}\n    ${one.about}\n`);
    return 0;
  }
  if (name === "-" && words.length === 0) return stream(io, dates);
  if (name === undefined || name.startsWith("-")) {
    io.err(USAGE);
    return 2;
  }
  const cells = words.map(wordCell);
  const called = cells.find(isMisuse) ?? callFor(name, cells);
  if (isMisuse(called)) {
    io.err(linesText([called.misuse]));
    return 2;
  }
  const result = dates ? withDates(called.definition.gives, called.result, isoOf) : called.result;
  if (options.includes("--json")) io.out(`${JSON.stringify(result)}\n`);
  else print(result, io);
  return hasError(result) ? 1 : 0;
}

/** Reads calls and writes results, a line each and in order; the exit code is the worst of all. */
async function stream(io: Streams, dates: boolean): Promise<number> {
  let worst = 0;
  let piece = "";
  for await (const line of io.lines()) {
    const called = callLine(line);
    let result: unknown;
    if (isMisuse(called)) {
      worst = 2;
      result = { error: "#NAME?", message: called.misuse };
    } else {
      if (worst === 0 && hasError(called.result)) worst = 1;
      result = dates ? withDates(called.definition.gives, called.result, isoOf) : called.result;
    }
    piece += `${JSON.stringify(result)}\n`;
    if (piece.length >= PIECE) {
      io.out(piece);
      piece = "";
    }
  }
  if (piece !== "") io.out(piece);
  return worst;
}

function callLine(line: string): Called | Misuse {
  const call = parsed(line);
  if (!isCall(call)) {
    return { misuse: 'a line must be a JSON array such as ["NEXTDUE","2026-02-17",3]' };
  }
  const [name, ...cells] = call;
  return callFor(name, cells.map(jsonCell));
}

interface Called {
  readonly definition: Definition;
  readonly result: Result;
}

function callFor(name: string, cells: readonly unknown[]): Called | Misuse {
  const definition = byName.get(name) ?? byName.get(bareName(name));
  if (definition === undefined) {
    return { misuse: `unknown function ${name}; sparespan calc --list shows them all` };
  }
  const least = definition.args.filter((arg) => !arg.optional).length;
  const most = definition.args.length;
  if (cells.length < least || cells.length > most) {
    const wanted = least === most ? `${most}` : `${least} to ${most}`;
    return { misuse: `${signature(definition)} takes ${wanted} arguments, got ${cells.length}` };
  }
  return { definition, result: definition.call(cells) };
}

/** The name without its namespace, in capitals. */
function bareName(name: string): string {
  const capitals = name.toUpperCase();
  const prefix = `${NAMESPACE}.`;
  return capitals.startsWith(prefix) ? capitals.slice(prefix.length) : capitals;
}

/** The cell a word of the command line stands for. */
function wordCell(word: string): unknown {
  if (word === "-" || word === "") return null;
  if (NUMBER.test(word)) return Number(word);
  if (/^(true|false)$/i.test(word)) return word.toLowerCase() === "true";
  if (word.startsWith("[") || (word.startsWith('"') && word.endsWith('"'))) {
    const value = parsed(word);
    if (value === undefined) return { misuse: `${word} is not valid JSON` } satisfies Misuse;
    return typeof value === "string" ? value : jsonCell(value);
  }
  return jsonCell(word);
}

/** A value read from JSON, with ISO dates as serial numbers; what only looks like one stays text. */
function jsonCell(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(jsonCell);
  return typeof value === "string" && ISO_DATE.test(value) ? dayOrText(value) : value;
}

function dayOrText(text: string): Day | string {
  try {
    return day(text);
  } catch (error) {
    if (error instanceof InputError) return text;
    throw error;
  }
}

/** What JSON text says; undefined if it is not JSON. */
function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}

function isMisuse(value: unknown): value is Misuse {
  return typeof value === "object" && value !== null && "misuse" in value;
}

function isError(value: unknown): value is CellError {
  return typeof value === "object" && value !== null && "error" in value;
}

function hasError(result: Result): boolean {
  return isRows(result) ? result.some((row) => row.some(isError)) : isError(result);
}

/** A value as plain text, rows with tabs between; the sentences of errors go to stderr. */
function print(result: Result, io: Streams): void {
  if (!isRows(result)) {
    if (isError(result)) io.err(linesText([`${result.error} ${result.message}`]));
    else io.out(linesText([String(result)]));
    return;
  }
  const faults: string[] = [];
  const lines = result.map((row, index) => {
    const texts = row.map((cell) => {
      if (!isError(cell)) return oneLine(String(cell));
      faults.push(`row ${index + 1}: ${cell.error} ${cell.message}`);
      return cell.error;
    });
    return `${texts.join("\t")}\n`;
  });
  io.out(lines.join(""));
  if (faults.length > 0) io.err(linesText(faults));
}
