import type { Day } from "../../core/day.ts";
import { damageIn } from "./finding-words.ts";
import { logOrder } from "./log-order.ts";
import { partNamed } from "./parts.ts";
import { eachPosition, partKey, type PartMeant, unitNamed, wholeOf } from "./positions.ts";
import type { Job, Ours, Part } from "./records.ts";
import { remembering } from "./remembering.ts";

/** A job with the part, or the position of it, that it names; null where it is unclear which. */
export interface NamedJob extends Job {
  readonly named: Part | null;
  /** A position the job names and the registers have no date for; null where there is none. */
  readonly stray: string | null;
}

/** The device of jobs whose own cannot be read. */
export const ANY_DEVICE = "\n";

/** A job with a day that can be counted. */
export type DatedJob = NamedJob & { readonly date: Day };

/** What was logged of one part of one device, up to the report date. */
interface UnitJobs {
  /** Days it was inspected on. */
  readonly checks: ReadonlySet<Day>;
  /** Jobs that restart its interval, in order; one a day, the last row of the day. */
  readonly renewals: readonly DatedJob[];
}

/** The Job log by device and part, walked once. */
export interface JobIndex {
  /** Every job in the order of the sheet. */
  readonly all: readonly NamedJob[];
  /** Every job of a device, by its key. */
  readonly ofDevice: (deviceKey: string) => readonly NamedJob[];
  /** Jobs for this day whose device cannot be read. */
  readonly astray: (date: Day) => readonly NamedJob[];
  readonly of: (deviceKey: string, part: Part) => UnitJobs;
  /** The day a part's interval last restarted, by any log; null where they hold none. */
  readonly lastRenewal: (deviceKey: string, part: Part) => Day | null;
  /** The same by our Job log alone, and by the programme's own alone. */
  readonly lastIn: (which: "ours" | "own", deviceKey: string, part: Part) => Day | null;
  /**
   * The replacement that answers what was found of a part: its own job, else the first one after it, on the
   * same day only where the log's order is known. Null while the finding is open: without a day that has
   * come it stays open, and a task that was done answers none.
   */
  readonly answerTo: (finding: NamedJob, part: Part) => DatedJob | null;
  /** Parts that are named at all; in a log of the programme's own, by work that renews them. */
  readonly parts: ReadonlySet<Part>;
}

/**
 * Whether a job restarts the interval of the part that it names: the complete part replaced, or the dated task
 * done; of a position, unless somebody wrote that it was not complete.
 */
export function renews({ job, complete }: Pick<Job, "job" | "complete">, part: Part): boolean {
  if (part.task) return (job === "replaced" || job === "calibrated") && complete !== false;
  return (
    job === "replaced" && (complete === true || (part.position !== undefined && complete !== false))
  );
}

/** Whether a job renews the part it names, on a day that counts. */
export function isRenewal(job: NamedJob, reportDate: Day): job is DatedJob & { named: Part } {
  const { date, named, stray } = job;
  const isKnown = named !== null && stray === null;
  return date !== null && date <= reportDate && isKnown && renews(job, named);
}

/** Whether a job is of the part or the position: one of the whole part is of each of its positions. */
export function isOf({ named, stray }: NamedJob, part: Part): boolean {
  return named !== null && stray === null && (named === part || named === part.position?.of);
}

/** How many replacements a renewal counts for: a complete set renews each position. */
export function renewed({ named }: { readonly named: Part }): number {
  return eachPosition(named).length;
}

/**
 * Whether what a job found may be of a part: without a known part it may be any wearing part's, without a
 * position any position's.
 */
export function mayBeOf({ named }: NamedJob, part: Part): boolean {
  if (named === null) return !part.task;
  const isOther = named.position !== undefined && part.position !== undefined && named !== part;
  return named.code === part.code && !isOther;
}

/** A job by what makes it the same as another. */
type Sameness = Pick<Job, "deviceKey" | "date" | "job">;

/** The jobs of a log that are the same work on a part of a device on the same day. */
export function sameJobs(ours: Ours, wanted: Sameness, part: Part | null): readonly NamedJob[] {
  return jobIndex(ours)
    .ofDevice(wanted.deviceKey)
    .filter(({ date, job, named }) => {
      return date === wanted.date && job === wanted.job && named === part;
    });
}

/** Whether a log holds a job already, and any damage that it found. */
export function holdsJob(
  ours: Ours,
  wanted: Sameness & Pick<Job, "finding">,
  part: Part | null,
): boolean {
  return sameJobs(ours, wanted, part).some(
    ({ finding }) => damageIn(wanted.finding) === null || damageIn(finding) !== null,
  );
}

/** Gathered once for a list of jobs, a list of parts and a report date. */
const gathered = new WeakMap<
  readonly Job[],
  WeakMap<readonly Part[], { readonly reportDate: Day; readonly index: JobIndex }>
>();

/** The index of what was logged. */
export function jobIndex({ jobs, parts, settings: { reportDate } }: Ours): JobIndex {
  const byParts = gathered.get(jobs) ?? new WeakMap();
  gathered.set(jobs, byParts);
  const known = byParts.get(parts);
  if (known?.reportDate === reportDate) return known.index;
  const index = indexOf(jobs, parts, reportDate);
  byParts.set(parts, { reportDate, index });
  return index;
}

const NOTHING: UnitJobs = { checks: new Set(), renewals: [] };
const NO_JOBS: readonly NamedJob[] = [];

function indexOf(jobs: readonly Job[], parts: readonly Part[], reportDate: Day): JobIndex {
  const meantBy = unitFinder(parts);
  const all = jobs.map((job): NamedJob => {
    const meant = meantBy(job.part);
    return { ...job, named: meant?.part ?? null, stray: meant?.stray ?? null };
  });
  const isBefore = logOrder(all);
  const byDevice = new Map<string, NamedJob[]>();
  const checks = new Map<string, Set<Day>>();
  const renewals = new Map<string, Map<Day, DatedJob>>();
  const astray = new Map<Day, NamedJob[]>();
  for (const job of all) {
    const { date, named, deviceKey } = job;
    inner(byDevice, deviceKey, () => []).push(job);
    if (deviceKey === ANY_DEVICE && date !== null) inner(astray, date, () => []).push(job);
    if (date === null || date > reportDate || named === null) continue;
    if (job.job === "inspected")
      inner(checks, unitKey(deviceKey, named), () => new Set()).add(date);
    if (!isRenewal(job, reportDate)) continue;
    for (const part of new Set([named, ...eachPosition(named)])) {
      inner(renewals, unitKey(deviceKey, part), () => new Map()).set(date, job);
    }
  }
  addWholeChecks(checks, { parts, devices: byDevice.keys() });
  const units = new Map<string, UnitJobs>();
  for (const unit of new Set([...checks.keys(), ...renewals.keys()])) {
    const done = [...(renewals.get(unit)?.values() ?? [])].sort((a, b) => a.date - b.date);
    units.set(unit, { checks: checks.get(unit) ?? NOTHING.checks, renewals: done });
  }
  const of = (device: string, part: Part): UnitJobs =>
    byDevice.has(device) ? (units.get(unitKey(device, part)) ?? NOTHING) : NOTHING;
  return {
    all,
    of,
    astray: (date) => astray.get(date) ?? NO_JOBS,
    ofDevice: (device) => byDevice.get(device) ?? NO_JOBS,
    lastRenewal: (device, part) => of(device, part).renewals.at(-1)?.date ?? null,
    lastIn: (which, device, part) => {
      const isOwn = which === "own";
      const isIn = (job: NamedJob): boolean => (job.own === true) === isOwn && isOf(job, part);
      return lastRenewed(byDevice.get(device) ?? NO_JOBS, isIn, reportDate);
    },
    answerTo: (finding, part) => {
      const { date } = finding;
      if (date === null || date > reportDate || part.task) return null;
      const isOwn = isRenewal(finding, reportDate) && isOf(finding, part);
      const answers = (one: DatedJob): boolean =>
        one.date > date || (one.date === date && (isOwn || isBefore(finding, one)));
      return of(finding.deviceKey, part).renewals.find(answers) ?? null;
    },
    parts: new Set(
      all.flatMap((job) =>
        job.named === null || (job.own === true && !isRenewal(job, reportDate))
          ? []
          : wholeOf(job.named),
      ),
    ),
  };
}

function lastRenewed(
  jobs: readonly NamedJob[],
  isMeant: (job: NamedJob) => boolean,
  reportDate: Day,
): Day | null {
  let last: Day | null = null;
  for (const job of jobs) {
    if (!isMeant(job) || !isRenewal(job, reportDate)) continue;
    if (last === null || job.date > last) last = job.date;
  }
  return last;
}

/** A part was inspected on the days on which each of its positions was. */
function addWholeChecks(
  checks: Map<string, Set<Day>>,
  { parts, devices }: { readonly parts: readonly Part[]; readonly devices: Iterable<string> },
): void {
  const positioned = parts.filter((part) => part.positions !== undefined);
  if (positioned.length === 0) return;
  for (const device of devices) {
    for (const part of positioned) {
      const [first, ...others] = eachPosition(part).map(
        (position) => checks.get(unitKey(device, position)) ?? new Set<Day>(),
      );
      for (const date of first ?? []) {
        if (!others.every((days) => days.has(date))) continue;
        inner(checks, unitKey(device, part), () => new Set()).add(date);
      }
    }
  }
}

/** Finds parts by code or name, each text looked up once. */
export function partFinder(parts: readonly Part[]): (text: string) => Part | null {
  return remembering((text) => partNamed(parts, text));
}

/** Finds parts and their positions as jobs name them, each text looked up once. */
function unitFinder(parts: readonly Part[]): (text: string) => PartMeant | null {
  return remembering((text) => unitNamed(parts, text));
}

function inner<K, T>(map: Map<K, T>, key: K, make: () => T): T {
  const there = map.get(key);
  if (there !== undefined) return there;
  const made = make();
  map.set(key, made);
  return made;
}

function unitKey(device: string, part: Part): string {
  return `${device}\n${partKey(part)}`;
}
