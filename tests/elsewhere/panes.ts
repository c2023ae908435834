import type { Snapshot } from "../../src/book/workbook/snapshot.ts";
import { type Today, todayOf } from "../../src/book/day/today.ts";
import { openWorkbook } from "../../src/xlsx/index.ts";
import type { Host } from "../../taskpane/host.ts";
import { aheadRequest } from "../../taskpane/pane/sections/ahead.tsx";
import { budgetRequest, NOTHING_ASKED } from "../../taskpane/pane/sections/budget.tsx";
import { deskOver } from "../../taskpane/pane/state/desk.ts";
import { second } from "../../taskpane/pane/state/second.ts";
import { orderRequest } from "../../taskpane/pane/sections/order.tsx";
import { newStore, type Section, type Request } from "../../taskpane/pane/state/state.ts";
import { NOTHING_TYPED } from "../../taskpane/pane/sections/what-if.tsx";
import { columnsRequest } from "../../taskpane/pane/state/requests.ts";
import { deskOf } from "../taskpane/desk.ts";
import type { Asked, Count, Result } from "./roads.ts";
import { quietBench } from "../taskpane/sheets.ts";
import { knowAnswers } from "../stand-in/answers.ts";

/** The pane over its two hosts, each with a programme's workbook. */
const HOSTS = {
  "the pane in Excel": ({ bytes }: Asked): Promise<Host> => {
    const { host, model } = deskOf(openWorkbook(bytes).snapshot);
    return Promise.resolve({
      ...host,
      apply: (plan, told) => {
        knowAnswers(model, plan);
        return host.apply(plan, told);
      },
    });
  },
  "the pane in the workbench": async ({ bytes }: Asked): Promise<Host> => {
    const { bench } = quietBench();
    await bench.openFile(bytes);
    return bench;
  },
};
export type Pane = keyof typeof HOSTS;
export const PANES = Object.keys(HOSTS) as readonly Pane[];

interface Seen {
  readonly written: Snapshot;
  readonly today: Pick<Today, Count>;
}

/** The columns and some results, proposed and done as the pane does them. */
export async function paned(road: Pane, asked: Asked, results: readonly Result[]): Promise<Seen> {
  const { reportDate } = asked;
  const store = newStore();
  store.set({ reportDate });
  const desk = deskOver(store);
  const requests: Readonly<Record<Result, Request>> = {
    order: orderRequest(false, reportDate),
    budget: budgetRequest(NOTHING_ASKED, reportDate),
    ahead: aheadRequest(NOTHING_TYPED, reportDate),
  };
  const done = async (section: Section, request: Request): Promise<void> => {
    await desk.propose(section, request);
    const { proposal } = store.state();
    if (proposal === null || !(await desk.apply(proposal))) {
      throw new Error(`${asked.name}, ${road}, ${section}: ${store.state().said}`);
    }
  };
  await second.fetched();
  await desk.connected(await HOSTS[road](asked));
  await done("columns", columnsRequest("portable", reportDate));
  for (const result of results) await done(result, requests[result]);
  const { book } = store.state();
  if (book === null) throw new Error(store.state().said);
  return { written: book.snapshot, today: todayOf(book.snapshot, book.reading) };
}
