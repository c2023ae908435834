import { type Day, isoText } from "../../core/day.ts";
import { OLDEST } from "../../core/due.ts";
import { quoted } from "../workbook/cells.ts";
import { JOBS } from "../sheets/job-log.ts";
import { eachPosition, partKey } from "../records/positions.ts";
import { type CellPlace, fault, listed } from "../records/problems.ts";
import { type JobIndex, jobIndex, type NamedJob, renews } from "../records/job-index.ts";
import { damageIn } from "../records/finding-words.ts";
import type { Device, Job, Ours, Part, Problem } from "../records/records.ts";
import { findingFaults } from "./cell-faults.ts";
import { nearDevices } from "./jobs/near-devices.ts";
import { faultLater } from "./told/told-later.ts";
import { YEARS_BELIEVED } from "./jobs/last-done.ts";

/**
 * What is wrong with the jobs of the Job log. A replacement counts only when it is marked complete; a
 * date after the report date counts for nothing, for it would lengthen an interval.
 */
export function jobProblems(
  ours: Ours,
  devices: readonly Pick<Device, "id" | "key">[],
  placeOf: JobPlace,
): readonly Problem[] {
  const ids = new Map([...devices].reverse().map(({ id, key }) => [key, id]));
  const log = jobIndex(ours);
  const nearOf = nearDevices(ids.keys());
  const context = { ids, nearOf, log, placeOf, reportDate: ours.settings.reportDate };
  return log.all.flatMap((job) => problemsOf(job, context));
}

/** The cell of a job under one of the Job log's headings. */
export type JobPlace = (job: Job, heading: string) => CellPlace;

interface Context {
  /** How the registers write their devices, by key. */
  readonly ids: ReadonlyMap<string, string>;
  readonly nearOf: (key: string) => string | null;
  readonly log: JobIndex;
  readonly placeOf: JobPlace;
  readonly reportDate: Day;
}

function problemsOf(job: NamedJob, context: Context): Problem[] {
  const { ids, placeOf } = context;
  const { named: part } = job;
  const problems: Problem[] = [];
  if (part === null && (job.part.trim() !== "" || job.finding !== "" || job.job === "replaced")) {
    const cause =
      job.part.trim() === ""
        ? "No part is named."
        : `${quoted(job.part)} is not on the Parts sheet.`;
    problems.push(
      fault("unknown part", placeOf(job, "Part"), cause, "Write the code or the name of a part."),
    );
  }
  if (!ids.has(job.deviceKey)) problems.push(deviceProblem(job, context));
  problems.push(...wordProblems(job, placeOf));
  problems.push(...dateProblems(job, context));
  if (part !== null && !part.task && job.job === "replaced") {
    problems.push(...completeProblems(job, part, placeOf));
  }
  return problems;
}

/** A job of a device that is not in the register; damage that is still open is told first of all. */
function deviceProblem(job: NamedJob, { ids, nearOf, log, placeOf }: Context): Problem {
  const place = placeOf(job, "Device");
  const unknown =
    job.device === "" ? "The row names no device" : `${quoted(job.device)} is not in the register`;
  const fix = "Write the device as it is in the register, or add it there.";
  const found = damageIn(job.finding);
  if (found === null || isOver(job, log)) {
    return fault("unknown device", place, `${unknown}.`, fix);
  }
  const near = ids.get(nearOf(job.deviceKey) ?? "");
  const does =
    near === undefined
      ? "it may be of any device and puts none out of use"
      : `it counts for ${near} until that is settled`;
  const cause = `${unknown}, and the Job log has ${quoted(job.finding)} for it: ${does}.`;
  return fault("damage of no device", place, cause, fix);
}

/** Whether a finding was answered, or the device was withdrawn since, as far as rows under its own name say. */
function isOver(job: NamedJob, log: JobIndex): boolean {
  const { named, deviceKey, date } = job;
  if (named !== null && log.answerTo(job, named) !== null) return deviceKey !== "";
  return log.ofDevice(deviceKey).some((other) => {
    const isLater = other.date !== null && date !== null && other.date >= date;
    return isLater && other.job === "withdrawn" && deviceKey !== "";
  });
}

/** A replacement that is not known to be of all pieces counts for none, and says so. */
function completeProblems(job: NamedJob, part: Part, placeOf: JobPlace): Problem[] {
  if (job.stray !== null) {
    const known = part.positions?.names ?? [];
    const has = known.length === 0 ? "one date for it" : `dates of ${listed(known)}`;
    const cause = `The replacement names a position (${job.stray}) of ${part.name}, and the register has ${has}, so it is not counted.`;
    const fix =
      known.length === 0
        ? "Replace the complete set and log it, or add a column for each position to the register."
        : `Name ${listed(known, known.length)}, or the part alone if the set was complete.`;
    return [fault("partial set", placeOf(job, "Part"), cause, fix)];
  }
  if (renews(job, part)) return [];
  if (part.positions !== undefined) {
    const names = eachPosition(part).map(partKey);
    const cause = `The replacement of ${part.name} names no position and is not marked as a complete set, so it counts for none of them.`;
    const fix = `Write ${listed(names, names.length)} under Part, or yes under Complete set if it was complete.`;
    return [fault("partial set", placeOf(job, "Part"), cause, fix)];
  }
  const cause = `The replacement of ${part.name} is not marked as a complete set, so it is not counted.`;
  const fix = "Replace the complete set and log it, or write yes if it was complete.";
  return [fault("partial set", placeOf(job, "Complete set"), cause, fix)];
}

/** A job whose day is missing or has not come yet counts for nothing, and says so. */
function dateProblems(job: Job, { placeOf, reportDate }: Context): Problem[] {
  if (job.date === null) {
    const cause = "The job has no usable date, so it is not counted; what it found stays open.";
    const fix = "Type the day it was done as a date.";
    return [fault("no date", placeOf(job, "Date"), cause, fix)];
  }
  if (job.date > reportDate) {
    const cause = `${isoText(job.date)} is after the report date ${isoText(reportDate)}; the job is not counted, and what it found stays open.`;
    const fix = "Correct the date, or the report date.";
    return [fault("future date", placeOf(job, "Date"), cause, fix)];
  }
  if (job.date < reportDate - OLDEST) {
    return [
      faultLater("date out of range", placeOf(job, "Date"), "outOfRange", job.date, YEARS_BELIEVED),
    ];
  }
  return [];
}

/** Unknown words in a job: what they mean is never guessed on the light side. */
function wordProblems(job: Job, placeOf: JobPlace): Problem[] {
  const problems = findingFaults(placeOf(job, "Finding"), job.finding);
  if (!JOBS.some((known) => known === job.job)) {
    const cause = `${job.job === "" ? "No job is named" : `${quoted(job.job)} is not a known job`}; the row is not counted.`;
    const fix = `Write ${JOBS.join(", ")}.`;
    problems.push(fault("unknown job", placeOf(job, "Job"), cause, fix));
  }
  return problems;
}
