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

/** Something made of each, a step for each. */
export function* eachOf<T, U>(all: Iterable<T>, make: (one: T) => U): Steps<U[]> {
  const made: U[] = [];
  for (const one of all) {
    made.push(make(one));
    yield;
  }
  return made;
}

/** Short work as a single step. */
export function* oneStep<T>(work: () => T): Steps<T> {
  yield;
  return work();
}
