/** Milliseconds of work after which the page may do something else. */
const LONGEST = 40;

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
