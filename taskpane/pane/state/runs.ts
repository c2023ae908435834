import type { Host, Told } from "../../host.ts";
import type { Store } from "./state.ts";
import { sentenceOf } from "./trouble.ts";
import { WORDS } from "../words/words.ts";

type Work = (host: Host, told: Told) => Promise<void>;

/** One thing at a time with the host; what it refuses is shown, never thrown. */
export interface Runs {
  readonly host: () => Host | null;
  readonly meet: (host: Host) => void;
  /** Runs a long job: told how far it is; may be stopped where it only reads. */
  readonly run: (doing: string, work: Work, stoppable?: boolean) => Promise<void>;
  readonly stop: () => void;
  readonly isStopped: () => boolean;
  /** Is called whenever a run has ended. */
  readonly afterwards: (heard: () => void) => void;
  /** Ends work in steps that was stopped, by throwing. */
  readonly rested: () => void;
  /** Asks the host something short; null where it refuses. */
  readonly ask: <T>(work: (host: Host) => Promise<T>) => Promise<T | null>;
}

/** The runs of a store. */
export function runsOver({ state, set }: Store): Runs {
  let host: Host | null = null;
  let stopped = false;
  const heard: (() => void)[] = [];
  const refuse = (sentence: string): void => {
    set({ refusal: sentence, said: sentence });
  };
  const isStopped = (): boolean => stopped;
  return {
    host: () => host,
    meet(found) {
      host = found;
    },
    stop() {
      if (state().busy?.stoppable === true) stopped = true;
    },
    isStopped,
    afterwards(one) {
      heard.push(one);
    },
    rested() {
      if (isStopped()) throw new Error(WORDS.stopped);
    },
    async run(doing, work, stoppable = false) {
      if (host === null || state().busy !== null) return;
      stopped = false;
      set({ busy: { doing, share: 0, stoppable }, refusal: null, said: doing });
      const told: Told = (share, what) => {
        if (isStopped() && stoppable) throw new Error(WORDS.stopped);
        set({ busy: { doing: `${doing} ${what}`, share, stoppable } });
      };
      try {
        await painted();
        await work(host, told);
      } catch (error) {
        refuse(isStopped() && stoppable ? WORDS.stopped : sentenceOf(error));
      }
      set({ busy: null });
      for (const one of heard) one();
    },
    async ask(work) {
      if (host === null) return null;
      try {
        return await work(host);
      } catch (error) {
        refuse(sentenceOf(error));
        return null;
      }
    },
  };
}

/** Lets the page be painted before something long begins. */
function painted(): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, 0));
}
