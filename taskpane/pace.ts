import type { Steps } from "../src/book/workbook/steps.ts";

/** Milliseconds of work after which the page may do something else; one more step still fits into 50. */
const LONGEST = 20;

/** Keeps long loops from freezing the page. */
export interface Pace {
  /** The page has been kept waiting long enough. */
  isDue(): boolean;
  /** Lets the page answer clicks and draw. */
  rest(): Promise<void>;
}

/** A pace that begins now. */
export function newPace(): Pace {
  let since = performance.now();
  return {
    isDue: () => performance.now() - since > LONGEST,
    async rest() {
      await new Promise((resolve) => setTimeout(resolve));
      since = performance.now();
    },
  };
}

/** Runs work in steps, the page resting in between; `rested` is called after each rest and may throw to end it. */
export async function paced<T>(steps: Steps<T>, rested?: () => void): Promise<T> {
  const pace = newPace();
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
    if (!pace.isDue()) continue;
    await pace.rest();
    rested?.();
  }
}
