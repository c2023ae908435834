/**
 * Work in steps. Whoever runs it may let others work after each step, or give it up: a screen stays
 * awake during long work, and a person can stop it.
 */
export type Steps<T> = Generator<undefined, T, undefined>;

/** Runs all steps at once. */
export function finished<T>(steps: Steps<T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}

/** Something made of each, a step for each, or for so many of what is made soon. */
export function* eachOf<T, U>(
  all: Iterable<T>,
  make: (one: T, at: number) => U,
  many = 1,
): Steps<U[]> {
  const made: U[] = [];
  for (const one of all) if (made.push(make(one, made.length)) % many === 0) yield;
  return made;
}

/** Rows of a register that a page may judge or read in a step. */
export const ROWS_A_STEP = 512;

/** Short work as a single step. */
export function* oneStep<T>(work: () => T): Steps<T> {
  yield;
  return work();
}
