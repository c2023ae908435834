import type { Snapshot } from "../../../src/book/workbook/snapshot.ts";
import type { Plan } from "../../../src/book/workbook/plan.ts";
import type { Receipt } from "../../../src/book/workbook/receipt.ts";
import type { Host, Told } from "../../host.ts";
import { paced } from "../../pace.ts";
import { placeMade } from "./made.ts";
import type { Opened, Proposal, Store } from "./state.ts";
import { WORDS } from "../words/words.ts";

interface Doing {
  readonly host: Host;
  readonly told: Told;
  readonly reader: { readonly read: (host: Host, told: Told) => Promise<unknown> };
  readonly wrote: () => void;
}

/** Step by step; what was done before a step failed can be taken back all the same. */
export async function applySteps(
  { section, request, plans }: Proposal,
  { state, set }: Store,
  { host, told, reader, wrote }: Doing,
): Promise<void> {
  const receipts: Receipt[] = [];
  const written: Plan[] = [];
  const summary = plans[0]?.summary ?? "";
  try {
    for (const step of request.steps) {
      const { book, snapshot } = state();
      if (snapshot === null) throw new Error("nothing was read");
      const plan = await paced(step(book ?? bare(snapshot)));
      if (plan.edits.length === 0) continue;
      receipts.push(await host.apply(plan, told));
      written.push(plan);
      wrote();
      await reader.read(host, told);
    }
  } finally {
    if (receipts.length > 0) set({ done: [{ section, summary, receipts }, ...state().done] });
  }
  set({ proposal: null, said: WORDS.applied(summary), matches: new Map() });
  const made = placeMade(written);
  // What was done is done, whether or not it can be shown.
  if (made !== null) await host.select(made).catch(() => undefined);
}

/** The last change, its steps from the last to the first; gives what it was, and the cells left to others. */
export async function takeBackLast(
  { state, set }: Store,
  host: Host,
  wrote: () => void,
): Promise<{ readonly summary: string; readonly left: readonly string[] }> {
  const [last, ...rest] = state().done;
  if (last === undefined) return { summary: "", left: [] };
  const receipts = [...last.receipts];
  const left: string[] = [];
  try {
    for (let receipt = receipts.at(-1); receipt !== undefined; receipt = receipts.at(-1)) {
      left.push(...(await host.takeBack(receipt)));
      wrote();
      receipts.pop();
    }
  } finally {
    set({ done: receipts.length === 0 ? rest : [{ ...last, receipts }, ...rest] });
  }
  return { summary: last.summary, left };
}

/** A book without a register: only a new register is planned on it, and that reads nothing. */
export function bare(snapshot: Snapshot): Opened {
  return {
    snapshot,
    get reading(): never {
      throw new Error("this workbook has no register yet");
    },
    begun: null,
  };
}
