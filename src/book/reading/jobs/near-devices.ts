import { alikeKey, lookAlikeKey } from "../../records/alike-keys.ts";
import { damageIn } from "../../records/finding-words.ts";
import { ANY_DEVICE } from "../../records/job-index.ts";
import type { Job } from "../../records/records.ts";
import { keyOf } from "../../workbook/cells.ts";
import { mayBeReplaced } from "./uncounted-jobs.ts";

/** The one device whose name is written alike, such as A-06 for "A6"; null where there is none, or several are. */
export function nearDevices(devices: Iterable<string>): (key: string) => string | null {
  const near = new Map<string, string | null>();
  const put = (alike: string, key: string): void => {
    near.set(alike, near.has(alike) && near.get(alike) !== key ? null : key);
  };
  for (const key of devices) for (const alike of alikesOf(key)) put(alike, key);
  return (key) => {
    for (const alike of alikesOf(key)) {
      const found = near.get(alike) ?? null;
      if (found !== null) return found;
    }
    return null;
  };
}

function alikesOf(key: string): string[] {
  return key === "" ? [] : [...new Set([alikeKey(key), lookAlikeKey(key)])];
}

/** More rows than these are of a device that has another name now, or none: no slip of one cell. */
const SLIPS = 3;

/**
 * Jobs of the Job log with what those of devices that are not in the register say of others: damage is of the one whose
 * name is written alike until somebody settles it, and a replacement that counts for nobody is no proof of a date.
 */
export function withNearDevices(
  jobs: readonly Job[],
  devices: ReadonlyMap<string, unknown>,
): readonly Job[] {
  const isStray = ({ own, deviceKey }: Job): boolean => own !== true && !devices.has(deviceKey);
  const strays = jobs.filter(isStray);
  if (strays.length === 0) return jobs;
  const nearOf = nearDevices(devices.keys());
  const rows = new Map<string, number>();
  for (const { deviceKey } of strays) rows.set(deviceKey, (rows.get(deviceKey) ?? 0) + 1);
  const isAnswered = answeredAmong(strays);
  return jobs.map((job): Job => {
    if (!isStray(job)) return job;
    const { deviceKey, date, undone } = job;
    const near = nearOf(deviceKey);
    const isSlip = deviceKey === "" || (rows.get(deviceKey) ?? 0) <= SLIPS;
    const against = mayBeReplaced(job) && isSlip ? days(date, undone) : undefined;
    const isFound = near !== null && damageIn(job.finding) !== null && !isAnswered(job);
    if (!isFound && against === undefined) return job;
    const said = against === undefined ? job : { ...job, undone: against };
    // Neither kept as an inspection nor counted as a replacement.
    return { ...said, deviceKey: near ?? ANY_DEVICE, job: "" };
  });
}

/** Whether what a row found is answered by a later replacement under the same name. */
function answeredAmong(strays: readonly Job[]): (job: Job) => boolean {
  const keyOfPart = ({ deviceKey, part }: Job): string => `${deviceKey}\n${keyOf(part)}`;
  const last = new Map<string, number>();
  for (const job of strays) {
    const { date, complete, undone } = job;
    const isDone = job.job === "replaced" && complete === true && undone === undefined;
    if (!isDone || date === null) continue;
    last.set(keyOfPart(job), Math.max(last.get(keyOfPart(job)) ?? 0, date));
  }
  return (job) =>
    job.date !== null && job.part !== "" && (last.get(keyOfPart(job)) ?? 0) > job.date;
}

function days(date: Job["date"], undone: Job["undone"]): Job["undone"] {
  return undone ?? (date === null ? "any" : [date]);
}
