import { addMonths, type Day, weekday, weekStart } from "../../core/day.ts";
import { climb } from "../../core/usage.ts";
import { isWorkday, rollBack, type WorkCalendar } from "../../core/workday.ts";
import type { Part } from "../records/records.ts";
import type { Chance } from "./chance.ts";

/** A row of the demonstration's Job log. */
export interface LoggedJob {
  readonly date: Day;
  readonly device: string;
  readonly part: string;
  readonly job: "inspected" | "replaced" | "calibrated";
  readonly finding: string;
  readonly complete: "yes" | "";
  readonly lot: string;
  readonly by: string;
}

interface Living {
  readonly device: {
    readonly id: string;
    readonly site: string;
    readonly commissioned: Day;
    readonly retiredOn: Day | null;
    readonly counts: readonly (number | null)[];
  };
  readonly parts: readonly Part[];
  readonly random: Chance;
  readonly calendar: WorkCalendar;
  readonly reportDate: Day;
}

/** Chance of damage in a month of service; invented. */
const DAMAGE_A_MONTH = 0.015;
/** Share of replacements done late, by up to three weeks; invented. */
const LATE_SHARE = 0.06;
const LATEST_DAYS = 21;
/** Weeks of inspections the log still holds. */
const WEEKS_LOGGED = 13;
const INSPECTED = { usual: 0.97, S08: 0.85 } as const;
const DAMAGES = ["residue", "corrosion", "crack", "hardened"] as const;

/** What happened to one device's parts up to the report date. */
export function lifeOf(living: Living): {
  readonly jobs: readonly LoggedJob[];
  readonly lastDone: Readonly<Record<string, Day>>;
} {
  const jobs: LoggedJob[] = [];
  const lastDone: Record<string, Day> = {};
  for (const part of living.parts) {
    const replacements = replacementsOf(part, living);
    jobs.push(...replacements);
    lastDone[part.code] = replacements.at(-1)?.date ?? living.device.commissioned;
    if (part.perWeek > 0 && living.device.retiredOn === null) {
      jobs.push(...inspectionsOf(part, living));
    }
  }
  return { jobs, lastDone };
}

function replacementsOf(part: Part, living: Living): LoggedJob[] {
  const { device, random, calendar, reportDate } = living;
  const end = device.retiredOn ?? reportDate;
  const jobs: LoggedJob[] = [];
  // A device starts with new parts, logged on the day it was commissioned.
  let date = device.commissioned;
  let finding = "";
  while (date <= end) {
    jobs.push(replaced(part, living, date, finding));
    const planned = addMonths(date, intervalAt(part, device.counts));
    const late = random.share() < LATE_SHARE ? random.below(LATEST_DAYS) : -random.below(6);
    const damage = part.task ? planned : damagedOn(date, random);
    finding = !part.task && damage < planned + late ? random.pick(DAMAGES) : "";
    const next = Math.max(date + 1, Math.min(damage, planned + late)) as Day;
    const rolled = rollBack(next, calendar);
    date = rolled > date ? rolled : next;
  }
  return jobs;
}

function damagedOn(from: Day, random: Chance): Day {
  const months = Math.log(1 - random.share()) / Math.log(1 - DAMAGE_A_MONTH);
  return (from + Math.min(Math.ceil(months * 30), 4000)) as Day;
}

/** The demonstration's ramp between 20 and 60 uses a month, on the device's mean count. */
function intervalAt(part: Part, counts: readonly (number | null)[]): number {
  const shortest = part.shortest ?? 1;
  if (part.task || part.lightUse === null || part.heavyUse === null) return shortest;
  const known = counts.filter((count) => count !== null);
  const mean = known.reduce((sum, count) => sum + count, 0) / Math.max(known.length, 1);
  const longest = part.longest ?? shortest;
  return Math.floor(longest - (longest - shortest) * climb(mean, part.lightUse, part.heavyUse));
}

function replaced(part: Part, { device, random }: Living, date: Day, finding: string): LoggedJob {
  return {
    date,
    device: device.id,
    part: part.code,
    job: part.task ? "calibrated" : "replaced",
    finding,
    complete: part.task ? "" : "yes",
    lot: part.task ? "" : `L${String(2400 + random.below(90))}`,
    by: part.task ? "BE" : random.pick(["LS1", "LS2", "LS3"]),
  };
}

function inspectionsOf(part: Part, { device, random, calendar, reportDate }: Living): LoggedJob[] {
  const jobs: LoggedJob[] = [];
  const done = device.site === "S08" ? INSPECTED.S08 : INSPECTED.usual;
  const first = weekStart(reportDate) - 7 * WEEKS_LOGGED;
  for (
    let date = Math.max(first, device.commissioned) as Day;
    date < reportDate;
    date = (date + 1) as Day
  ) {
    const isTurn = weekday(date) === 2 || weekday(date) === 4;
    if (!isTurn || !isWorkday(date, calendar) || random.share() >= done) continue;
    jobs.push({
      date,
      device: device.id,
      part: part.code,
      job: "inspected",
      finding: "clean",
      complete: "",
      lot: "",
      by: random.pick(["LS1", "LS2", "LS3"]),
    });
  }
  return jobs;
}
