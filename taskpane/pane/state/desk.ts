import type { Host, Place } from "../../host.ts";
import { type Changes, changesOver } from "./changes.ts";
import { type Reader, readerOver, readTold } from "./reader.ts";
import { type Runs, runsOver } from "./runs.ts";
import type { Section, State, Store } from "./state.ts";
import { WORDS } from "../words/words.ts";

/** Everything the sections can do; through it alone they reach the host. */
export interface Desk
  extends Pick<Runs, "host" | "stop" | "ask">, Pick<Reader, "choose">, Omit<Changes, "isEcho"> {
  readonly state: () => State;
  /** A workbook is there: reads it. */
  readonly connected: (host: Host) => Promise<void>;
  /** No workbook belongs to this page, and why. */
  readonly alone: (sentence: string) => void;
  readonly go: (section: Section) => void;
  readonly read: () => Promise<void>;
  /** Another workbook has come in the place of the one before: nothing of that one is kept. */
  readonly replaced: () => Promise<void>;
  readonly select: (place: Place) => Promise<void>;
  readonly say: (sentence: string) => void;
}

/** The desk over a store. */
export function deskOver(store: Store): Desk {
  const { state, set } = store;
  const runs = runsOver(store);
  const reader = readerOver(store, runs);
  const { isEcho, ...changes } = changesOver(store, runs, reader);
  const { host, stop, ask } = runs;
  const read = (): Promise<void> =>
    runs.run(
      WORDS.reading,
      async (from, told) => {
        await reader.read(from, told);
        set({ proposal: null, said: readTold(state()) });
      },
      true,
    );
  return {
    ...changes,
    state,
    host,
    stop,
    ask,
    read,
    choose: reader.choose,
    replaced() {
      set({ done: [], proposal: null, reportDate: null, matches: new Map(), book: null });
      return read();
    },
    async connected(found) {
      runs.meet(found);
      set({ place: "host" });
      found.changed(() => {
        const { busy, stale } = state();
        if (busy === null && !stale && !isEcho()) set({ stale: true });
      });
      await read();
    },
    alone(sentence) {
      set({ place: "alone", section: "functions", said: sentence });
    },
    go(section) {
      set({ section, proposal: null, refusal: null, said: "" });
    },
    async select(place) {
      await ask((from) => from.select(place));
    },
    say(said) {
      set({ said });
    },
  };
}
