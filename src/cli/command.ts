import type { z } from "zod";
import type { COMMON } from "./arguments.ts";
import { givenBy, type Line, type Request, requestOf } from "./arguments.ts";
import { type ExitCode, type Io, UsageError } from "./io.ts";
import type { Given, Options } from "./option.ts";
import { linesText } from "./shown.ts";

/** The headings of the general help, in order; commands under "" stand alone at its end. */
export const MOMENTS = ["The day", "The book", "The year", "Proof", ""] as const;

/** What help says of a command. */
interface Told {
  /** One word, or two that share the first (share order, share copy). */
  readonly name: string;
  readonly moment: (typeof MOMENTS)[number];
  /** One line for the list of commands. */
  readonly brief: string;
  /** What it does, in lines of at most 100 characters. */
  readonly about: string;
  /** How it is given where to write: "-o OUT" where it must be, "[-o OUT]" where it may, else "". */
  readonly writes: string;
  /** Which of the options that every command takes its own help names. */
  readonly common: readonly (keyof typeof COMMON)[];
  /** What stands behind "sparespan", one an entry. */
  readonly examples: readonly string[];
}

/** The words behind a command's name: how help shows them, and how they are read. */
export interface Words<W> {
  readonly shows: string;
  readonly read: (words: readonly string[]) => W;
}

/** What a command gets: its words, its own options, those that every command takes, and where to speak. */
export interface Asked<W, O extends Options, R> {
  readonly words: W;
  readonly given: Given<O>;
  readonly request: Request;
  readonly io: Io;
  /** Says the result: lines for people or, with --json, what the schema of the command promises. */
  readonly say: (lines: () => readonly string[], json: () => R) => void;
}

/** A command as everything outside sees it. */
export interface Command extends Told {
  readonly words: string;
  readonly options: Options;
  /** What --json prints; null where it prints no JSON. */
  readonly result: z.ZodType | null;
  /** Reads its words and options and runs it; wrong use is a UsageError. */
  readonly run: (line: Line, io: Io) => ExitCode | Promise<ExitCode>;
}

/** A command, declared once: the reader of its arguments, its help and its place in the list follow. */
export function command<W, const O extends Options, R = never>(
  spec: Told & {
    readonly words: Words<W>;
    readonly options: O;
    readonly result: z.ZodType<R> | null;
    readonly run: (asked: Asked<W, O, R>) => ExitCode | Promise<ExitCode>;
  },
): Command {
  const { name, words, options } = spec;
  return {
    ...spec,
    words: words.shows,
    run(line, io) {
      const request = requestOf(line, name);
      const asked = words.read(line.words.slice(name.split(" ").length));
      const say: Asked<W, O, R>["say"] = (lines, json) => {
        io.out(request.json ? `${JSON.stringify(json(), null, 2)}\n` : linesText(lines()));
      };
      return spec.run({ words: asked, given: givenBy(options, line, name), request, io, say });
    },
  };
}

/** What help and schema know of calc, which takes its arguments as they stand: -0.5 is a number there, no option. */
export function bareCommand(
  spec: Told & { readonly words: string; readonly result: z.ZodType | null },
): Command {
  return {
    ...spec,
    options: {},
    run: () => {
      throw new UsageError(`${spec.name} comes first; see --help`);
    },
  };
}

/** The one word a command is about. */
export function oneWord(shows: string, what: string): Words<string> {
  return {
    shows,
    read([word, ...more]) {
      if (word === undefined) throw new UsageError(`${what} is missing; see --help`);
      if (more[0] !== undefined) {
        throw new UsageError(`one ${what} at a time, got "${more[0]}" too`);
      }
      return word;
    },
  };
}

/** The one workbook a command is about. */
export const BOOK = oneWord("BOOK", "workbook");
