import type { Steps } from "../../../src/book/workbook/steps.ts";
import { paced } from "../../pace.ts";
import type { Reader } from "./reader.ts";
import type { Runs } from "./runs.ts";
import { second } from "./second.ts";
import type { Proposal, Section, Store, Request } from "./state.ts";
import { WORDS } from "../words/words.ts";

/** Changes of the workbook: shown before they are done, and taken back. */
export interface Changes {
  /** Works a request out without showing it. Throws a sentence for people. */
  readonly workOut: (section: Section, request: Request) => Steps<Proposal>;
  readonly propose: (section: Section, request: Request) => Promise<void>;
  readonly drop: () => void;
  /** Gives whether it was done. */
  readonly apply: (proposal: Proposal) => Promise<boolean>;
  readonly takeBack: () => Promise<void>;
  /** Whether a change just heard of is our own. */
  readonly isEcho: () => boolean;
}

/** Milliseconds in which the events of our own writing still come in. */
const ECHO = 1000;

/** The changes of a store. */
export function changesOver(store: Store, runs: Runs, reader: Reader): Changes {
  const { state, set } = store;
  let wroteAt = -Infinity;
  const wrote = (): void => {
    wroteAt = performance.now();
  };
  const workOut = (section: Section, request: Request): Steps<Proposal> => {
    const { book, snapshot } = state();
    if (snapshot === null) throw new Error("nothing was read");
    return parts().proposalOf(section, request, {
      before: book ?? parts().bare(snapshot),
      open: reader.open,
    });
  };
  return {
    workOut,
    isEcho: () => performance.now() - wroteAt < ECHO,
    propose(section, request) {
      const at = state().section;
      return runs.run(
        WORDS.planning,
        async (host, told) => {
          if (state().stale) await reader.read(host, told);
          const proposal = await paced(workOut(section, request), runs.rested);
          // Whoever has gone on to another section does not want it any more.
          if (state().section !== at) return;
          if (proposal.plans.length > 0) {
            set({ proposal, said: WORDS.proposed(proposal.lines.length) });
          } else set({ proposal: null, said: WORDS.nothing, refusal: WORDS.nothing });
        },
        true,
      );
    },
    drop() {
      set({ proposal: null, said: WORDS.dropped });
    },
    async apply(proposal) {
      let done = false;
      await runs.run(WORDS.applying, async (host, told) => {
        if (state().stale) await reader.read(host, told);
        if (state().book !== proposal.before) {
          const again = await paced(workOut(proposal.section, proposal.request));
          if (!parts().isSame(again, proposal)) {
            set({ refusal: WORDS.meanwhile, said: WORDS.meanwhile });
            if (state().proposal !== null) set({ proposal: again });
            return;
          }
        }
        await parts().applySteps(proposal, store, { host, told, reader, wrote });
        done = true;
      });
      return done;
    },
    takeBack: () =>
      runs.run(WORDS.takingBack, async (host, told) => {
        const { summary, left } = await parts().takeBackLast(store, host, wrote);
        await reader.read(host, told);
        set({ proposal: null, said: WORDS.takenBack(summary, left) });
      }),
  };
}

/** What works changes out; it came with the section that asks for one. */
function parts(): NonNullable<ReturnType<typeof second.there>> {
  const there = second.there();
  if (there === null) throw new Error(WORDS.offline);
  return there;
}
