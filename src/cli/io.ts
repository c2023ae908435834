import type { Day } from "../core/day.ts";

/** What a command may touch besides files: results, messages, the calendar. */
export interface Io {
  /** Results: standard output, one text, line breaks included. */
  readonly out: (text: string) => void;
  /** Messages: standard error. */
  readonly err: (text: string) => void;
  /** Lines of standard input. */
  readonly lines: () => AsyncIterable<string>;
  readonly today: () => Day;
  /** Milliseconds of a clock that only goes forward. */
  readonly clock: () => number;
  /** Waits until the person at the keyboard ends the program; absent where nobody can. */
  readonly stopped?: () => Promise<void>;
}

/** A reason why a command could not run; its message is a sentence for people. Exit code 2. */
export class UsageError extends Error {
  override readonly name = "UsageError";
}

/** Exit codes: 0 fine, 1 the rows have problems, 2 could not run. */
export type ExitCode = 0 | 1 | 2;
