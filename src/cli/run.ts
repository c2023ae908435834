import type { Io } from "./io.ts";
import { shown } from "./shown.ts";

/** Runs the command line and gives the exit code. Known troubles are a sentence, bugs a stack. */
export async function run(args: readonly string[], io: Io): Promise<number> {
  // Cells, file names and words of the command line may hold anything: one door for all output.
  const safe: Io = {
    ...io,
    out: (text) => {
      io.out(shown(text));
    },
    err: (text) => {
      io.err(shown(text));
    },
  };
  // Scripts call calc for every value: it waits for the functions alone, not for what reads workbooks.
  if (args[0] === "calc" && !args.includes("--help")) {
    const { calc } = await import("./calc.ts");
    return calc(args.slice(1), safe);
  }
  const { obey } = await import("./obey.ts");
  return obey(args, safe);
}
