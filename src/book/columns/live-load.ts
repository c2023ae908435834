import { counted } from "../records/problems.ts";
import type { Reading } from "../records/records.ts";

/** Devices up to which the columns as worksheet functions answer soon enough, as users of Excel report of such calls. */
const MOST_LIVE = 300;

/** What to know before many devices get columns as worksheet functions; null where they are few. */
export function liveLoadSays({ devices }: Pick<Reading, "devices">): string | null {
  if (devices.length <= MOST_LIVE) return null;
  return (
    `Worksheet functions for ${counted(devices.length, "device")} make Excel slow: each row calls the add-in ` +
    `many times. Above ${MOST_LIVE} devices native formulas are better, and give the same answers.`
  );
}
