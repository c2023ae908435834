/** Milliseconds after which a part that does not come is taken for one that cannot be had. */
const PATIENCE = 20_000;

/** A part of the page that comes when it is first asked for. */
export interface OnDemand<T> {
  /** The part; null until it has come. */
  readonly there: () => T | null;
  /** Fails where it cannot be had or takes too long; asked once more, it is fetched anew. */
  readonly fetched: () => Promise<T>;
  /** Calls back once it has come, before whoever waits for it. */
  readonly onCome: (heard: (part: T) => void) => void;
}

/** A part of the page by what fetches it. */
export function onDemand<T extends object>(load: () => Promise<T>): OnDemand<T> {
  let there: T | null = null;
  let coming: Promise<T> | null = null;
  const waiting: ((part: T) => void)[] = [];
  return {
    there: () => there,
    fetched() {
      coming ??= inTime(load()).then(
        (part) => {
          there = part;
          for (const heard of waiting.splice(0)) heard(part);
          return part;
        },
        (error: unknown) => {
          coming = null;
          throw error;
        },
      );
      return coming;
    },
    onCome(heard) {
      if (there === null) waiting.push(heard);
      else heard(there);
    },
  };
}

function inTime<T>(coming: Promise<T>): Promise<T> {
  return new Promise((done, fail) => {
    const timer = setTimeout(() => {
      fail(new Error("it takes too long to come"));
    }, PATIENCE);
    coming.then(done, fail).finally(() => {
      clearTimeout(timer);
    });
  });
}
