import type { AskedOfWorkbook } from "../../../src/book/reading/begin-workbook.ts";
import { onDemand } from "../../on-demand.ts";
import type * as LogParts from "./log-parts.ts";
import { second } from "./second.ts";

/** What reads logs and remarks: fetched for a workbook with words beside its devices, with counts or jobs, or with sheets that may be logs of its own. */
export const logs = onDemand<typeof LogParts>(() => import("./log-parts.ts"));

/** A workbook has words, counts or jobs, or may have logs, and what reads them has not come yet: no list is calmer without them. */
export class LogsToCome extends Error {}

/** What reads logs. Throws LogsToCome where it has not come. */
function there(): typeof LogParts {
  const parts = second.there() ?? logs.there();
  if (parts === null) throw new LogsToCome("what reads logs is still to come");
  return parts;
}

/** What a reading asks for, with what has come. */
export function asked(): AskedOfWorkbook {
  return {
    wayOut: second.there()?.wayOut,
    countDoubts: () => there().countDoubts,
    ear: there,
    ownLogs: (pages, beside) => there().ownLogs(pages, beside),
    nearDevices: (jobs, devices) => there().nearDevices(jobs, devices),
    jobNotes: (snapshot, written) => there().jobNotes(snapshot, written),
  };
}
