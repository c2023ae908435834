import type { Day } from "../../core/day.ts";
import { keyOf } from "../workbook/cells.ts";
import { renews } from "./history.ts";
import { partNamed } from "../records/parts.ts";
import type { Job, Part, Reading } from "../records/records.ts";

/** A job with a day and a part that can be counted. */
export type Dated = Job & { readonly date: Day };

/** What was logged of one part of one device, up to the report date. */
interface UnitLog {
  /** Days it was inspected on. */
  readonly checks: ReadonlySet<Day>;
  /** Complete replacements, or the task done, in order; one a day, the last row of the day. */
  readonly renewals: readonly Dated[];
}

/** The Job log by device and part. */
export interface KeptLog {
  readonly of: (device: string, part: Part) => UnitLog;
  /** Rows that count for nothing here: no day, no part or no device that is known, or after the report date. */
  readonly uncounted: number;
  /** Day of the first inspection there is; null without one. */
  readonly begins: Day | null;
}

const NOTHING: UnitLog = { checks: new Set(), renewals: [] };

/** Reads the Job log once. */
export function keptLog({ ours, devices }: Reading): KeptLog {
  const known = new Set(devices.map(({ id }) => keyOf(id)));
  const partOf = partFinder(ours.parts);
  const checks = new Map<string, Set<Day>>();
  const renewals = new Map<string, Map<Day, Dated>>();
  let uncounted = 0;
  let begins: Day | null = null;
  for (const job of ours.jobs) {
    const { date } = job;
    const part = partOf(job.part);
    const device = keyOf(job.device);
    if (date === null || date > ours.settings.reportDate || part === null || !known.has(device)) {
      uncounted += 1;
      continue;
    }
    const key = unitKey(device, part);
    if (job.job === "inspected") {
      inner(checks, key, () => new Set<Day>()).add(date);
      if (begins === null || date < begins) begins = date;
    }
    if (renews(job, part)) {
      inner(renewals, key, () => new Map<Day, Dated>()).set(date, { ...job, date });
    }
  }
  const logs = new Map<string, UnitLog>();
  for (const key of new Set([...checks.keys(), ...renewals.keys()])) {
    const done = [...(renewals.get(key)?.values() ?? [])].sort((a, b) => a.date - b.date);
    logs.set(key, { checks: checks.get(key) ?? NOTHING.checks, renewals: done });
  }
  return {
    of: (device, part) => logs.get(unitKey(keyOf(device), part)) ?? NOTHING,
    uncounted,
    begins,
  };
}

/** Finds parts by code or name, each text looked up once. */
export function partFinder(parts: readonly Part[]): (text: string) => Part | null {
  const found = new Map<string, Part | null>();
  return (text) => {
    let part = found.get(text);
    if (part === undefined) found.set(text, (part = partNamed(parts, text)));
    return part;
  };
}

function inner<T>(map: Map<string, T>, key: string, make: () => T): T {
  const there = map.get(key);
  if (there !== undefined) return there;
  const made = make();
  map.set(key, made);
  return made;
}

function unitKey(device: string, part: Part): string {
  return `${device}\n${part.code}`;
}
