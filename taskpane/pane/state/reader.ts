import type { Reading } from "../../../src/book/records/records.ts";
import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import { type BegunWorkbook, beginWorkbook } from "../../../src/book/reading/begin-workbook.ts";
import type { Steps } from "../../../src/book/workbook/steps.ts";
import type { Host, Told } from "../../host.ts";
import { paced } from "../../pace.ts";
import { asked, logs, LogsToCome } from "./logs.ts";
import type { Runs } from "./runs.ts";
import { second } from "./second.ts";
import type { Opened, State, Store } from "./state.ts";
import { troubleOf } from "./trouble.ts";
import { WORDS } from "../words/words.ts";

/** Reads the workbook, and judges what was read. */
export interface Reader {
  /** Throws a sentence for people where there is no register. */
  readonly open: (snapshot: Snapshot) => Steps<Opened>;
  readonly read: (host: Host, told: Told) => Promise<Opened | null>;
  /** Another day or other columns; while something runs they wait for its end. */
  readonly choose: (change: Chosen) => Promise<void>;
}

type Chosen = Partial<Pick<State, "reportDate" | "matches">>;

/** The reader of a store. A date left in Setup never hides what has become due since: today judges. */
export function readerOver(store: Store, runs: Runs): Reader {
  const { state, set } = store;
  function* open(snapshot: Snapshot): Steps<Opened> {
    const { reportDate, matches } = state();
    const today = runs.host()?.today();
    if (today === undefined) throw new Error("no workbook is there");
    const overrides = { reportDate: reportDate ?? today, matches };
    const told = second.there();
    const begun = yield* beginWorkbook(snapshot, today, overrides, asked());
    if (told === null) return { snapshot, reading: begun.reading, begun };
    return { snapshot, reading: yield* told.allTold(begun), begun: null };
  }
  function* judge(snapshot: Snapshot): Steps<Opened | null> {
    try {
      const book = yield* open(snapshot);
      set({ snapshot, book, trouble: null, stale: false });
      return book;
    } catch (error) {
      if (error instanceof LogsToCome) throw error;
      set({ snapshot, book: null, trouble: troubleOf(error), proposal: null, stale: false });
      return null;
    }
  }
  let chosen: Chosen | null = null;
  // What runs goes by the day and the columns it began with: a choice waits for its end.
  const settle = (): Promise<void> => {
    const { busy, snapshot } = state();
    if (chosen === null || busy !== null) return Promise.resolve();
    set({ ...chosen, proposal: null });
    chosen = null;
    if (snapshot === null) return Promise.resolve();
    return runs.run(WORDS.reading, async () => {
      await withLogs(() => paced(judge(snapshot)));
      set({ said: readTold(state()) });
    });
  };
  runs.afterwards(() => void settle());
  const choose = (change: Chosen): Promise<void> => {
    chosen = { ...chosen, ...change };
    return settle();
  };
  second.onCome(({ allTold }) => {
    // A workbook without a register is read again, for what is then said of it.
    if (state().trouble?.kind === "register") void choose({});
    else void paced(tellRest(store, allTold));
  });
  return {
    open,
    async read(host, told) {
      try {
        const snapshot = await host.snapshot(told);
        return await withLogs(() => paced(judge(snapshot), runs.rested));
      } catch (error) {
        const sentence = runs.isStopped() ? WORDS.stopped : null;
        const trouble = sentence === null ? troubleOf(error) : { kind: "host" as const, sentence };
        if (state().book === null) set({ trouble });
        throw error;
      }
    },
    choose,
  };
}

/** A reading, and once more where what reads logs had to come first; then comes what is told beside the list. */
async function withLogs<T>(read: () => Promise<T>): Promise<T> {
  try {
    return await read();
  } catch (error) {
    if (!(error instanceof LogsToCome)) throw error;
    await logs.fetched();
    return await read();
  } finally {
    // Where it cannot be had the sections say so; the next reading asks again.
    void second.fetched().catch(() => undefined);
  }
}

/** The first list does not wait for what is told beside it. */
function* tellRest(
  { state, set }: Store,
  allTold: (begun: BegunWorkbook) => Steps<Reading>,
): Steps<void> {
  const early = state().book;
  if (early === null || early.begun === null) return;
  const reading = yield* allTold(early.begun);
  if (state().book !== early) return;
  const isSaid = state().said === readTold(state());
  set({ book: { snapshot: early.snapshot, reading, begun: null } });
  if (isSaid) set({ said: readTold(state()) });
}

/** What was read, or why nothing was. */
export function readTold({ book, trouble }: State): string {
  if (book !== null) return WORDS.read(book);
  return trouble === null ? "" : `${WORDS.noBook[trouble.kind]}.`;
}
