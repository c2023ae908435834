import { BookError, PatientDataError } from "../book/workbook/errors.ts";
import { WorkbookError } from "../xlsx/index.ts";
import { ahead } from "./ahead.ts";
import { readArguments } from "./arguments.ts";
import { budget } from "./budget.ts";
import { calc } from "./calc.ts";
import { calendar } from "./calendar.ts";
import { check, columns, demo, fresh, today } from "./commands.ts";
import { evidence } from "./evidence.ts";
import { COMMAND_HELP, HELP } from "./help.ts";
import { type Io, UsageError } from "./io.ts";
import type { Command } from "./job.ts";
import { log } from "./log.ts";
import { lot } from "./lot.ts";
import { order } from "./order.ts";
import { rounds } from "./rounds.ts";
import { share } from "./share.ts";
import { linesText, shown } from "./shown.ts";
import { start } from "./start.ts";

const COMMANDS: Readonly<Record<string, Command>> = {
  ahead,
  budget,
  today,
  calendar,
  check,
  columns,
  log,
  lot,
  order,
  rounds,
  new: fresh,
  demo,
  evidence,
  share,
  start,
};

/** Runs the command line and gives the exit code. Known troubles are a sentence, bugs a stack. */
export function run(args: readonly string[], io: Io): Promise<number> {
  // Cells, file names and words of the command line may hold anything: one door for all that is said.
  return obey(args, {
    ...io,
    out: (text) => {
      io.out(shown(text));
    },
    err: (text) => {
      io.err(shown(text));
    },
  });
}

async function obey(args: readonly string[], io: Io): Promise<number> {
  // calc reads its own words: -0.5 is a number there, not an option.
  if (args[0] === "calc" && !args.includes("--help")) return calc(args.slice(1), io);
  try {
    const wish = readArguments(args);
    const [name] = wish.words;
    if (name === undefined || (wish.help && COMMAND_HELP[name] === undefined)) {
      (wish.help ? io.out : io.err)(HELP);
      return wish.help ? 0 : 2;
    }
    if (wish.help) {
      io.out(COMMAND_HELP[name] ?? HELP);
      return 0;
    }
    const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
    if (command === undefined) throw new UsageError(`there is no command "${name}"; see --help`);
    return await command(wish, io);
  } catch (error) {
    if (!isTold(error)) throw error;
    io.err(linesText([`sparespan: ${error.message}`]));
    return 2;
  }
}

function isTold(error: unknown): error is Error {
  return (
    error instanceof UsageError ||
    error instanceof WorkbookError ||
    error instanceof BookError ||
    error instanceof PatientDataError
  );
}
