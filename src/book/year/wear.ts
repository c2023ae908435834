import { NoAnswerError } from "../../core/errors.ts";
import { DAYS_PER_MONTH } from "../../core/counts.ts";
import type { Day } from "../../core/day.ts";
import { lifeFit, type LifeFit } from "../../core/fit.ts";
import type { Lifetime, FailureCount } from "../../core/life.ts";
import { STEP_DAYS } from "../../core/renewal.ts";
import type { Device, Ours, Part, Reading } from "../records/records.ts";
import type { WhatIf } from "./what-if.ts";
import { onePerKey } from "../records/device-key.ts";
import { damageIn } from "../records/finding-words.ts";
import { type DatedJob, jobIndex, mayBeOf } from "../records/job-index.ts";
import { eachPosition } from "../records/positions.ts";
import { mayHaveLeft } from "../records/retired-words.ts";

/** One part's time in use on a device, and the days between which it was. */
export interface LogLife extends Lifetime {
  readonly deviceKey: string;
  readonly from: Day;
  readonly to: Day;
}

/** What the Job log shows about how a part wears. */
export interface WearFound {
  /** Intervals that began with a logged complete replacement. */
  readonly lifetimes: readonly LogLife[];
  readonly failures: number;
  readonly months: number;
  /** A fitted life from three failures on; else a count; null where the log says too little for a rate. */
  readonly wear: LifeFit | FailureCount | null;
}

/**
 * Intervals of a part from the Job log: each begins with a complete replacement and ends with the next
 * one, or failed on the day of a finding that ended the part's life, or still runs. The replacement that
 * answers a finding is the same event. Intervals that began before the log are not used: parts that wore out
 * unseen would be missing among them.
 */
export function wearOf(reading: Reading, part: Part): WearFound {
  const lifetimes = eachPosition(part).flatMap((one) => lifetimesOf(reading, one));
  const failures = lifetimes.filter(({ failed }) => failed).length;
  const months = lifetimes.reduce((sum, one) => sum + one.months, 0);
  // A log that has just begun says nothing yet: it is taken with one shortest interval of every device.
  const inService = workingDevices(reading).length;
  const inUse = inService * eachPosition(part).length;
  const counted = { failures, months: months + inUse * (part.shortest ?? 1) };
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

function lifetimesOf(reading: Reading, part: Part): LogLife[] {
  // A dated task does not wear.
  if (part.task) return [];
  const { ours } = reading;
  const log = jobIndex(ours);
  const inService = new Set(workingDevices(reading).map(({ key }) => key));
  const logged = new Set(log.all.map(({ deviceKey }) => deviceKey));
  return [...logged].flatMap((key) => {
    const { renewals } = log.of(key, part);
    if (renewals.length === 0) return [];
    const ends = firstFound(ours, key, part);
    return renewals.flatMap((job, at): LogLife[] => {
      const next = renewals[at + 1];
      const found = ends.get(next ?? null);
      // A device that left took its part along on a day that is not in the log.
      if (found === undefined && next === undefined && !inService.has(key)) return [];
      const end = found ?? next?.date ?? ours.settings.reportDate;
      const days = Math.max(end - job.date - (found === undefined ? 0 : FOUND_LATER), 0.5);
      const between = { deviceKey: key, from: job.date, to: end };
      return [{ months: days / DAYS_PER_MONTH, failed: found !== undefined, ...between }];
    });
  });
}

/** Devices whose parts are known to wear: one row each, and none that may have left. */
function workingDevices({ devices }: Reading): Device[] {
  return onePerKey(devices.filter((device) => !mayHaveLeft(device)));
}

/**
 * The first day on which a part was found at the end of its life, by the replacement that answered it; null
 * for what is open: without a day that has come it was found by now.
 */
function firstFound(ours: Ours, key: string, part: Part): ReadonlyMap<DatedJob | null, Day> {
  const log = jobIndex(ours);
  const { reportDate } = ours.settings;
  const ends = new Map<DatedJob | null, Day>();
  for (const job of log.ofDevice(key)) {
    if (!mayBeOf(job, part) || damageIn(job.finding) === null) continue;
    const answer = log.answerTo(job, part);
    const known = job.date ?? reportDate;
    const day = known < reportDate ? known : reportDate;
    const earlier = ends.get(answer);
    if (earlier === undefined || day < earlier) ends.set(answer, day);
  }
  return ends;
}

/** Wear is found at the next inspection, on average half the time between two of them later. */
const FOUND_LATER = STEP_DAYS / 2;
