import type { Snapshot } from "../../src/book/snapshot.ts";
import { readingSteps } from "../../src/book/workbook.ts";
import { finished, type Steps } from "../../src/book/steps.ts";
import type { Host, Told } from "../host.ts";
import { paced } from "../pace.ts";
import type { Runs } from "./runs.ts";
import type { Opened, State, Store } from "./state.ts";
import { troubleOf } from "./trouble.ts";

/** Reads the workbook, and judges what was read. */
export interface Reader {
  /** Throws a sentence for people where there is no register. */
  readonly open: (snapshot: Snapshot) => Steps<Opened>;
  readonly read: (host: Host, told: Told) => Promise<Opened | null>;
  readonly choose: (change: Partial<Pick<State, "reportDate" | "matches">>) => void;
}

/** The reader of a store. A date left in Setup never hides what has become due since: today judges. */
export function readerOver({ state, set }: Store, runs: Runs): Reader {
  function* open(snapshot: Snapshot): Steps<Opened> {
    const { reportDate, matches } = state();
    const today = runs.host()?.today();
    if (today === undefined) throw new Error("no workbook is there");
    const overrides = { reportDate: reportDate ?? today, matches };
    return { snapshot, reading: yield* readingSteps(snapshot, today, overrides) };
  }
  function* judge(snapshot: Snapshot): Steps<Opened | null> {
    try {
      const book = yield* open(snapshot);
      set({ snapshot, book, trouble: null, stale: false });
      return book;
    } catch (error) {
      set({ snapshot, book: null, trouble: troubleOf(error), proposal: null, stale: false });
      return null;
    }
  }
  return {
    open,
    async read(host, told) {
      try {
        return await paced(judge(await host.snapshot(told)), runs.rested);
      } catch (error) {
        if (!runs.isStopped() && state().book === null) set({ trouble: troubleOf(error) });
        throw error;
      }
    },
    choose(change) {
      set({ ...change, proposal: null });
      const { snapshot } = state();
      if (snapshot !== null) finished(judge(snapshot));
    },
  };
}
