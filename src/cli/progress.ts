import type { Io } from "./io.ts";

/** Tells what is going on once the work has taken more than a second. */
export interface Progress {
  readonly step: (what: string) => void;
}

const QUIET_FOR = 1000;

/** Progress on standard error. A step is told when it begins late, or when the one before took long. */
export function progressOn(io: Io): Progress {
  const begun = io.clock();
  return {
    step(what) {
      const passed = io.clock() - begun;
      if (passed > QUIET_FOR) io.err(`${(passed / 1000).toFixed(1)} s: ${what} …\n`);
    },
  };
}
