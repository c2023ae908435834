import { damageIn } from "../records/finding-words.ts";
import type { Doubt } from "../records/problem-kinds.ts";
import { type JobIndex, jobIndex, type NamedJob, renews } from "../records/job-index.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** When a part was last done, device by device, and why that date is not to be trusted. */
interface Dates {
  readonly lastDone: readonly CellValue[];
  readonly doubts: readonly (Doubt | null)[];
}

/** Findings of the Job log that end the part's life and were followed by no replacement. */
export function openFindings(
  { ours, devices }: Reading,
  part: Part,
  { lastDone, doubts }: Dates,
): (string | null)[] {
  const log = jobIndex(ours);
  return devices.map((device, at) => {
    const own = lastDone[at] ?? null;
    const usable =
      (doubts[at] ?? null) === null &&
      typeof own === "number" &&
      own <= ours.settings.reportDate + 1;
    return openFinding(log, { device, part }, usable ? own : null);
  });
}

function openFinding(
  log: JobIndex,
  { device, part }: { readonly device: Device; readonly part: Part },
  lastDone: number | null,
): string | null {
  // Damage is answered by replacing the part; a task that was done answers none.
  const logged = part.task ? null : log.lastRenewal(device.key, part);
  // Closed up to the register's date or the log's last complete replacement, whichever is later.
  const since = lastDone === null ? logged : Math.max(lastDone, logged ?? lastDone);
  const found = log.ofDevice(device.key).flatMap((job) => {
    const finding = isAbout(job, part) ? damageIn(job.finding) : null;
    // An undated finding stays open: doubt ends a part's life, it never extends it.
    const isOpen = job.date === null || since === null || job.date > since;
    return finding !== null && isOpen ? [finding] : [];
  });
  return found.at(-1) ?? null;
}

/** A finding without a known part may be any wearing part's; one answered by its own job is closed. */
function isAbout(job: NamedJob, part: Part): boolean {
  if (job.named === null) return !part.task;
  return job.named.code === part.code && (part.task || !renews(job, part));
}
