import { type Day, isoText } from "../../core/day.ts";
import { keyOf, quoted } from "../workbook/cells.ts";
import { partNamed } from "../records/parts.ts";
import { JOBS } from "../sheets/job-log.ts";
import { fault, type Place } from "../records/problems.ts";
import type { Job, Ours, Part, Problem } from "../records/records.ts";
import { isKnownFinding } from "../records/finding-words.ts";

/** What the Job log says: the latest complete replacement or calibration of each device's parts. */
export interface History {
  readonly latest: (deviceKey: string, part: Part) => Day | null;
  readonly problems: readonly Problem[];
}

/**
 * Reads the jobs. A replacement counts only when it is marked complete; a date after the report date
 * counts for nothing, for it would lengthen an interval.
 */
export function historyOf(
  ours: Ours,
  isDevice: (key: string) => boolean,
  placeOf: JobPlace,
): History {
  const problems: Problem[] = [];
  const latest = new Map<string, Map<string, Day>>();
  for (const job of ours.jobs) {
    const part = partNamed(ours.parts, job.part);
    const found = problemsOf(job, part, {
      isDevice,
      placeOf,
      reportDate: ours.settings.reportDate,
    });
    problems.push(...found);
    if (part === null || job.date === null || !renews(job, part)) continue;
    if (job.date > ours.settings.reportDate) continue;
    const key = keyOf(job.device);
    const parts = latest.get(key) ?? new Map<string, Day>();
    latest.set(key, parts);
    if (job.date > (parts.get(part.code) ?? 0)) parts.set(part.code, job.date);
  }
  return { latest: (key, part) => latest.get(key)?.get(part.code) ?? null, problems };
}

/** Whether the job starts the part's interval anew. */
export function renews(job: Job, part: Part): boolean {
  if (part.task) return isDone(job) && job.complete !== false;
  return isReplaced(job) && job.complete === true;
}

function isReplaced(job: Job): boolean {
  return job.job.trim().toLowerCase() === "replaced";
}

function isDone(job: Job): boolean {
  return isReplaced(job) || job.job.trim().toLowerCase() === "calibrated";
}

/** The cell of a job under one of the Job log's headings. */
export type JobPlace = (job: Job, heading: string) => Place;

interface Context {
  readonly isDevice: (key: string) => boolean;
  readonly placeOf: JobPlace;
  readonly reportDate: Day;
}

function problemsOf(job: Job, part: Part | null, context: Context): Problem[] {
  const { isDevice, placeOf } = context;
  const problems: Problem[] = [];
  if (part === null && (job.part.trim() !== "" || job.finding !== "" || job.job === "replaced")) {
    const cause =
      job.part.trim() === ""
        ? "No part is named."
        : `${quoted(job.part)} is no part of the Parts sheet.`;
    problems.push(
      fault("unknown part", placeOf(job, "Part"), cause, "Write the code or the name of a part."),
    );
  }
  if (!isDevice(keyOf(job.device))) {
    const cause = `${quoted(job.device)} is not in the register.`;
    const fix = "Write the device as the register does, or add it there.";
    problems.push(fault("unknown device", placeOf(job, "Device"), cause, fix));
  }
  problems.push(...wordProblems(job, placeOf));
  problems.push(...dateProblems(job, context));
  if (part !== null && !part.task && isReplaced(job) && job.complete !== true) {
    const cause = `The replacement of ${part.name} is not marked as a complete set; it is not counted.`;
    const fix = "Replace the complete set and log it, or write yes if it was complete.";
    problems.push(fault("partial set", placeOf(job, "Complete set"), cause, fix));
  }
  return problems;
}

/** A job whose day is missing or has not come yet counts for nothing, and says so. */
function dateProblems(job: Job, { placeOf, reportDate }: Context): Problem[] {
  if (job.date === null && (isDone(job) || job.job === "inspected")) {
    const cause = "The job has no date that can be used, so it counts for nothing.";
    const fix = "Type the day it was done as a date.";
    return [fault("no date", placeOf(job, "Date"), cause, fix)];
  }
  if (job.date !== null && job.date > reportDate) {
    const cause = `${isoText(job.date)} is after the report date ${isoText(reportDate)}; the job is not counted.`;
    const fix = "Correct the date, or the report date.";
    return [fault("future date", placeOf(job, "Date"), cause, fix)];
  }
  return [];
}

/** Words of a job that nobody knows: what they mean is never guessed on the light side. */
function wordProblems(job: Job, placeOf: JobPlace): Problem[] {
  const problems: Problem[] = [];
  if (!isKnownFinding(job.finding)) {
    const cause = `${quoted(job.finding)} is no finding that is known; it counts as damage until it is settled.`;
    const fix = "Write clean, residue, corrosion, crack, hardened or other.";
    problems.push(fault("unknown finding", placeOf(job, "Finding"), cause, fix));
  }
  if (!JOBS.some((known) => known === job.job)) {
    const cause = `${job.job === "" ? "No job is named" : `${quoted(job.job)} is no job that is known`}; the row counts for nothing.`;
    const fix = `Write ${JOBS.join(", ")}.`;
    problems.push(fault("unknown job", placeOf(job, "Job"), cause, fix));
  }
  return problems;
}
