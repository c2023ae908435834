import { damageIn } from "../records/finding-words.ts";
import type { Doubt } from "../records/problem-kinds.ts";
import { type JobIndex, jobIndex, mayBeOf } from "../records/job-index.ts";
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
    return openFinding(log, { device, part }, usable ? Math.floor(own) : null);
  });
}

function openFinding(
  log: JobIndex,
  { device, part }: { readonly device: Device; readonly part: Part },
  lastDone: number | null,
): string | null {
  const jobs = log.ofDevice(device.key);
  if (jobs.length === 0) return null;
  const found = jobs.flatMap((job) => {
    const finding = mayBeOf(job, part) ? damageIn(job.finding) : null;
    // The register's date says nothing of the order within its day: doubt keeps a finding open.
    const isPast = job.date !== null && lastDone !== null && job.date < lastDone;
    return finding === null || isPast || log.answerTo(job, part) !== null ? [] : [finding];
  });
  return found.at(-1) ?? null;
}
