import type { Asked } from "../../src/book/reading/begin.ts";
import type { ReadsLogs } from "../../src/book/reading/own-log.ts";
import type * as OwnLog from "../../src/book/reading/own-log.ts";
import { onDemand } from "../on-demand.ts";
import { second } from "./second.ts";

/** What reads logs of the programme's own: fetched for a workbook that has sheets which may be some. */
export const logs = onDemand<typeof OwnLog>(() => import("../../src/book/reading/own-log.ts"));

/** A workbook may have logs, and what reads them has not come yet: no list is calmer without them. */
export class LogsToCome extends Error {}

/** Reads logs with what has come. Throws LogsToCome where nothing has. */
const readsLogs: ReadsLogs = (pages, beside) => {
  const read = (second.there() ?? logs.there())?.ownLogs;
  if (read === undefined) throw new LogsToCome("what reads logs is still to come");
  return read(pages, beside);
};

/** What a reading asks for, with what has come. */
export function asked(): Asked {
  return { wayOut: second.there()?.wayOut, ownLogs: readsLogs };
}
