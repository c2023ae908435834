import { BookError, PatientDataError } from "../book/workbook/errors.ts";
import { WorkbookError } from "../xlsx/file/errors.ts";
import { type Line, lineOf } from "./arguments.ts";
import type { Command } from "./command.ts";
import { commandAlone } from "./commands/alone.ts";
import { helpOn, helpOnAll } from "./help.ts";
import { type Io, UsageError } from "./io.ts";
import { linesText } from "./shown.ts";

/** Does what the arguments say and gives the exit code; known troubles are a sentence. */
export async function obey(args: readonly string[], io: Io): Promise<number> {
  const [first, ...others] = args;
  // What a newcomer types.
  if (first === "help") return obey([...others, "--help"], io);
  try {
    const alone = await commandAlone(first);
    const line = alone === null ? null : ownLine(args, alone);
    return await (alone === null || line === null ? obeyAny(args, io) : alone.run(line, io));
  } catch (error) {
    if (!isKnown(error)) throw error;
    io.err(linesText([`sparespan: ${error.message}`]));
    return 2;
  }
}

/** What the arguments say to a command that is known; null where they say anything else, or ask for help. */
function ownLine(args: readonly string[], { options }: Command): Line | null {
  try {
    const line = lineOf(args, [options]);
    return line.said.has("help") ? null : line;
  } catch (error) {
    if (error instanceof UsageError) return null;
    throw error;
  }
}

/** The same with every command at hand. */
async function obeyAny(args: readonly string[], io: Io): Promise<number> {
  const { COMMANDS } = await import("./commands/list.ts");
  const line = lineOf(
    args,
    COMMANDS.map(({ options }) => options),
  );
  const found = commandsNamed(COMMANDS, line.words);
  const [only] = found;
  if (line.said.has("help")) {
    io.out(found.length === 0 ? helpOnAll(COMMANDS) : found.map(helpOn).join("\n"));
    return 0;
  }
  if (line.words.length === 0) {
    io.err(helpOnAll(COMMANDS));
    return 2;
  }
  if (only === undefined || found.length > 1) throw new UsageError(notOne(line.words, found));
  refuseForeign(only, line, COMMANDS);
  return only.run(line, io);
}

/** The command of that name; all that begin with the first word where the second says none of them. */
function commandsNamed(
  all: readonly Command[],
  [first, second]: readonly string[],
): readonly Command[] {
  const exact = all.filter(({ name }) => name === first || name === `${first} ${second}`);
  return exact.length > 0 ? exact : all.filter(({ name }) => name.split(" ")[0] === first);
}

function notOne([first = ""]: readonly string[], found: readonly Command[]): string {
  if (found.length === 0) return `there is no command "${first}"; see --help`;
  const uses = found.map(({ name, words }) => `${name} ${words}`);
  return `choose what to ${first}: sparespan ${uses.join(", or ")}`;
}

/** An option another command takes would be an option ignored. */
function refuseForeign({ name, options }: Command, { said }: Line, all: readonly Command[]): void {
  const isOwn = (option: string): boolean => Object.hasOwn(options, option);
  const foreign = [...said.keys()].find(
    (option) => !isOwn(option) && all.some((other) => Object.hasOwn(other.options, option)),
  );
  if (foreign !== undefined) throw new UsageError(`${name} takes no --${foreign}`);
}

function isKnown(error: unknown): error is Error {
  return (
    error instanceof UsageError ||
    error instanceof WorkbookError ||
    error instanceof BookError ||
    error instanceof PatientDataError
  );
}
