import { BookError, PatientDataError } from "../book/workbook/errors.ts";
import { WorkbookError } from "../xlsx/index.ts";
import { type Line, lineOf } from "./arguments.ts";
import type { Command } from "./command.ts";
import { COMMANDS } from "./commands/list.ts";
import { helpOn, helpOnAll } from "./help.ts";
import { type Io, UsageError } from "./io.ts";
import { linesText } from "./shown.ts";

/** Does what the arguments say and gives the exit code; known troubles are a sentence. */
export async function obey(args: readonly string[], io: Io): Promise<number> {
  const [first, ...others] = args;
  // What a newcomer types.
  if (first === "help") return obey([...others, "--help"], io);
  try {
    const line = lineOf(
      args,
      COMMANDS.map(({ options }) => options),
    );
    const found = commandsNamed(line.words);
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
    refuseForeign(only, line);
    return await only.run(line, io);
  } catch (error) {
    if (!isKnown(error)) throw error;
    io.err(linesText([`sparespan: ${error.message}`]));
    return 2;
  }
}

/** The command of that name; all that begin with the first word where the second says none of them. */
function commandsNamed([first, second]: readonly string[]): readonly Command[] {
  const exact = COMMANDS.filter(({ name }) => name === first || name === `${first} ${second}`);
  return exact.length > 0 ? exact : COMMANDS.filter(({ name }) => name.split(" ")[0] === first);
}

function notOne([first = ""]: readonly string[], found: readonly Command[]): string {
  if (found.length === 0) return `there is no command "${first}"; see --help`;
  const uses = found.map(({ name, words }) => `${name} ${words}`);
  return `choose what to ${first}: sparespan ${uses.join(", or ")}`;
}

/** An option another command takes would be an option ignored. */
function refuseForeign({ name, options }: Command, { said }: Line): void {
  const isOwn = (option: string): boolean => Object.hasOwn(options, option);
  const foreign = [...said.keys()].find(
    (option) => !isOwn(option) && COMMANDS.some((other) => Object.hasOwn(other.options, option)),
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
