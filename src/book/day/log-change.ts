import { isoText } from "../../core/day.ts";
import type { Change } from "../sheets/result-plan.ts";
import type { Logged } from "./entry.ts";
import type { Entry } from "./entry-meant.ts";

/** What a book without a Job log needs before a job can be logged: our sheets, and no more. */
export const LOG_SHEETS: Change = { summary: "sheets for the Job log and the Shelf" };

/** What a job that was logged changes in a book. */
export function logChange({ date, job }: Entry, { edits, part, device }: Logged): Change {
  return { edits, summary: `${job} ${part.name} of ${device.id} on ${isoText(date)}` };
}
