import { NoAnswerError } from "../../core/errors.ts";
import { DAYS_PER_MONTH } from "../../core/counts.ts";
import { lifeFit, type LifeFit } from "../../core/fit.ts";
import type { Lifetime, FailureCount } from "../../core/life.ts";
import { STEP_DAYS } from "../../core/renewal.ts";
import type { Part, Reading } from "../records/records.ts";
import type { WhatIf } from "./what-if.ts";
import { isOpenFinding } from "../records/finding-words.ts";
import { type DatedJob, isRenewal, jobIndex } from "../records/job-index.ts";

/** What the Job log shows about how a part wears. */
export interface WearFound {
  /** Intervals that began with a logged complete replacement. */
  readonly lifetimes: readonly Lifetime[];
  readonly failures: number;
  readonly months: number;
  /** A fitted life from three failures on; else a count; null where the log says too little for a rate. */
  readonly wear: LifeFit | FailureCount | null;
}

/**
 * Intervals of a part from the Job log: each begins with a complete replacement and ends with the next
 * one, failed where a finding ended it, or still runs. Intervals that began before the log are not used:
 * parts that wore out unseen would be missing among them.
 */
export function wearOf(reading: Reading, part: Part): WearFound {
  const lifetimes = lifetimesOf(reading, part);
  const failures = lifetimes.filter(({ failed }) => failed).length;
  const months = lifetimes.reduce((sum, one) => sum + one.months, 0);
  // A log that has just begun says nothing yet: it is taken with one shortest interval of every device.
  const inService = reading.devices.filter(({ retired }) => !retired).length;
  const counted = { failures, months: months + inService * (part.shortest ?? 1) };
  const says = failures > 0 || months >= LEAST_MONTHS;
  return { lifetimes, failures, months, wear: says ? lifeOr(counted, lifetimes) : null };
}

/** Months in use, over all devices, from which a log without a failure says something of the rate. */
const LEAST_MONTHS = 1;

/** Why unplanned replacements of a part without wear are not counted. */
export function noWearWhy(looked: WhatIf["wear"]): string {
  return looked === "none"
    ? "wear is left out, as assumed for this what-if"
    : "the Job log so far shows less than one month in use";
}

function lifeOr(count: FailureCount, lifetimes: readonly Lifetime[]): LifeFit | FailureCount {
  try {
    return lifeFit(lifetimes);
  } catch (error) {
    if (error instanceof NoAnswerError) return count;
    throw error;
  }
}

function lifetimesOf({ ours, devices }: Reading, part: Part): Lifetime[] {
  // A dated task does not wear.
  if (part.task) return [];
  const { reportDate } = ours.settings;
  const byDevice = new Map<string, DatedJob[]>();
  for (const job of jobIndex(ours).all) {
    if (!isRenewal(job, reportDate) || job.named.code !== part.code) continue;
    const jobs = byDevice.get(job.deviceKey) ?? [];
    jobs.push(job);
    byDevice.set(job.deviceKey, jobs);
  }
  const inService = new Set(devices.filter(({ retired }) => !retired).map(({ key }) => key));
  return [...byDevice].flatMap(([key, jobs]) => {
    const ordered = jobs.sort((one, other) => one.date - other.date);
    return ordered.flatMap((job, at): Lifetime[] => {
      const next = ordered[at + 1];
      // A device that left took its part along on a day that is not in the log.
      if (next === undefined && !inService.has(key)) return [];
      const failed = next !== undefined && isOpenFinding(next.finding);
      const days = (next?.date ?? reportDate) - job.date;
      return [
        { months: Math.max(days - (failed ? FOUND_LATER : 0), 0.5) / DAYS_PER_MONTH, failed },
      ];
    });
  });
}

/** Wear is found at the next inspection, on average half the time between two of them later. */
const FOUND_LATER = STEP_DAYS / 2;
