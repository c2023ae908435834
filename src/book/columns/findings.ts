import type { Day } from "../../core/day.ts";
import { damageIn } from "../records/finding-words.ts";
import { partNamed } from "../records/parts.ts";
import type { Part, Reading } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** When a part was last done, device by device, and why that date is not to be trusted. */
interface Dates {
  readonly lastDone: readonly CellValue[];
  readonly doubts: readonly (string | null)[];
}

/** Findings of the Job log that end the part's life and were followed by no replacement. */
export function openFindings(
  reading: Reading,
  part: Part,
  { lastDone, doubts }: Dates,
): (string | null)[] {
  const byDevice = new Map<string, { readonly date: Day | null; readonly finding: string }[]>();
  for (const job of reading.ours.jobs) {
    // A finding whose part nobody can name may be any wearing part's.
    const named = partNamed(reading.ours.parts, job.part);
    if (named?.code !== part.code && (named !== null || part.task)) continue;
    // A finding that was answered by replacing the whole part the same day is closed by that job.
    const closes = named !== null && job.job === "replaced" && job.complete === true;
    const finding = damageIn(job.finding);
    if (closes || finding === null) continue;
    const device = job.device.toLowerCase();
    const found = byDevice.get(device) ?? [];
    found.push({ date: job.date, finding });
    byDevice.set(device, found);
  }
  const replaced = replacedOn(reading, part);
  return reading.devices.map((device, at) => {
    const { reportDate } = reading.ours.settings;
    const own = lastDone[at] ?? null;
    const usable =
      (doubts[at] ?? null) === null && typeof own === "number" && own <= reportDate + 1;
    const since = closedOn(usable ? own : null, replaced.get(device.id.toLowerCase()));
    const found = byDevice.get(device.id.toLowerCase()) ?? [];
    // An undated finding stays open: doubt ends a part's life, it never extends it.
    const open = found.filter(({ date }) => date === null || since === null || date > since);
    return open.at(-1)?.finding ?? null;
  });
}

/** The day up to which findings are closed: the register's date or the log's last complete replacement. */
function closedOn(lastDone: CellValue, logged: Day | undefined): number | null {
  const register = typeof lastDone === "number" ? lastDone : null;
  return register === null ? (logged ?? null) : Math.max(register, logged ?? register);
}

/** Last complete replacement of a part by device, as the Job log has it. */
function replacedOn({ ours }: Reading, part: Part): ReadonlyMap<string, Day> {
  const latest = new Map<string, Day>();
  for (const { job, complete, date, device, part: named } of ours.jobs) {
    if (job !== "replaced" || complete !== true || date === null) continue;
    if (partNamed(ours.parts, named)?.code !== part.code || date > ours.settings.reportDate)
      continue;
    const key = device.toLowerCase();
    if (date > (latest.get(key) ?? 0)) latest.set(key, date);
  }
  return latest;
}
