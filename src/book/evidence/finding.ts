import { type Day, isoText } from "../../core/day.ts";
import type { JobIndex, NamedJob } from "../records/job-index.ts";
import { judge } from "../columns/judge.ts";
import { eachPosition } from "../records/positions.ts";
import type { Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import type { EvidenceBasis } from "./period.ts";
import type { Serving } from "../reading/dates/serving.ts";
import { damageIn, damageInCell } from "../records/finding-words.ts";

/** A finding that ends a part's life, and what followed. */
export interface FindingRecord {
  readonly device: string;
  readonly site: string;
  /** Null where the log names no part: it may be any wearing part's. */
  readonly part: Part | null;
  /** Null where no date was recorded. */
  readonly found: Day | null;
  readonly finding: string;
  /** The day it was closed; null while open. */
  readonly closed: Day | null;
  readonly days: number | null;
  readonly how: string;
}

/**
 * Findings of the period, and older ones that are still open; open ones first, the oldest on top. A
 * finding is closed by the complete replacement that answers it, or by the device's retirement.
 */
export function findingRecords(
  snapshot: Snapshot,
  reading: Reading,
  { devices, log, period }: EvidenceBasis,
): FindingRecord[] {
  const { reportDate } = reading.ours.settings;
  const byKey = new Map([...devices].reverse().map((serving) => [serving.device.key, serving]));
  const away = awayFrom(reading);
  const found = log.all.flatMap((job): FindingRecord[] => {
    const serving = byKey.get(job.deviceKey);
    const finding = damageIn(job.finding);
    if (serving === undefined || finding === null) return [];
    // A day that has not come is none.
    const date = job.date !== null && job.date > reportDate ? null : job.date;
    if (date !== null && date > period.to) return [];
    const part = job.named;
    if (part?.task === true) return [];
    const parts = part === null ? reading.ours.parts.filter(({ task }) => !task) : [part];
    const ends = closing(serving, { parts: parts.flatMap(eachPosition), job, found: date, log });
    const isOld = date !== null && date < period.from;
    if (isOld && ends !== null) return [];
    const one = { ...named(serving), part, found: date, finding };
    return [{ ...one, ...told(ends, date, away.get(job.deviceKey) ?? null) }];
  });
  const written = registerFindings(snapshot, reading, devices);
  return [...found, ...written].sort(openFirst);
}

interface Closing {
  readonly date: Day;
  readonly how: string;
}

function named({ device, site }: Serving): Pick<FindingRecord, "device" | "site"> {
  return { device: device.id, site };
}

/** When every part that may be meant was replaced, or the device had left. */
function closing(
  { end }: Serving,
  of: {
    readonly parts: readonly Part[];
    readonly job: NamedJob;
    readonly found: Day | null;
    readonly log: JobIndex;
  },
): Closing | null {
  const { parts, job, found, log } = of;
  if (found === null) return null;
  const replaced = parts.map((part) => log.answerTo(job, part)?.date ?? Infinity);
  const last = replaced.length === 0 ? Infinity : Math.max(...replaced);
  if (last !== Infinity) return { date: last as Day, how: "complete set replaced" };
  return end !== null && end >= found ? { date: end, how: "device retired" } : null;
}

function told(
  ends: Closing | null,
  found: Day | null,
  away: Day | null,
): Pick<FindingRecord, "closed" | "days" | "how"> {
  if (ends !== null && found !== null) {
    return { closed: ends.date, days: ends.date - found, how: ends.how };
  }
  const since = away !== null && (found === null || away >= found);
  return {
    closed: null,
    days: null,
    how: since ? `open; device withdrawn on ${isoText(away)}` : "open",
  };
}

/** Devices out of use by the log: withdrawn and not returned since. */
function awayFrom({ ours }: Reading): ReadonlyMap<string, Day> {
  const latest = new Map<string, { readonly date: Day; readonly back: boolean }>();
  for (const { job, date, deviceKey } of ours.jobs) {
    if (date === null || date > ours.settings.reportDate) continue;
    if (job !== "withdrawn" && job !== "returned") continue;
    const before = latest.get(deviceKey)?.date ?? 0;
    const back = job === "returned";
    if (date > before || (date === before && back)) latest.set(deviceKey, { date, back });
  }
  return new Map([...latest].flatMap(([key, { date, back }]) => (back ? [] : [[key, date]])));
}

/** Findings that stand in the register itself, without a day: they are open until they are cleared. */
function registerFindings(
  snapshot: Snapshot,
  reading: Reading,
  devices: readonly Serving[],
): FindingRecord[] {
  const { parts, registers, rowAt } = judge(snapshot, reading);
  const bySheet = new Map(registers.map(({ facts }) => [facts.sheet.name, facts]));
  return parts.flatMap((part) => {
    return devices.flatMap((serving): FindingRecord[] => {
      const { sheet, row: at } = serving.device;
      const facts = bySheet.get(sheet);
      const column = facts?.columnFor(`finding:${part.code}`) ?? null;
      if (facts === undefined || column === null) return [];
      const row = rowAt(part, serving.at)?.facts;
      const finding = damageInCell(facts.dated(at, column));
      if (row === undefined || row.retired || finding === null) return [];
      const how = "open; still in the register";
      const state = { found: null, finding, closed: null, days: null, how };
      return [{ ...named(serving), part, ...state }];
    });
  });
}

function openFirst(one: FindingRecord, other: FindingRecord): number {
  return (
    Number(one.closed !== null) - Number(other.closed !== null) ||
    (one.found ?? 0) - (other.found ?? 0) ||
    one.device.localeCompare(other.device, "en")
  );
}
