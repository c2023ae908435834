import { type Day, isDay } from "../../core/day.ts";
import {
  type Answers,
  answersOf,
  type Common,
  intervalAt,
  isTrusted,
  type RowFacts,
} from "../answers/answers.ts";
import { ownMost } from "../answers/own-most.ts";
import { doubtText } from "../records/doubt-causes.ts";
import { settled } from "../records/curve.ts";
import { type Facts } from "../columns/facts.ts";
import { wholeOf } from "../records/positions.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { siteByCode, siteOf } from "../records/site-names.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import type { Steps } from "../workbook/steps.ts";
import { type Usage, usageOf } from "../columns/usage.ts";
import { estimateOf, guessAt } from "./estimate.ts";
import type { UseAhead } from "./use.ts";
import type { Added, Supposed, WhatIf } from "./what-if.ts";
import { judge } from "../columns/judge.ts";

/** One part in use on one device, as the year ahead counts it. */
export interface YearUnit {
  /** "" for a device that is only assumed. */
  readonly device: string;
  readonly site: string;
  readonly part: Part;
  /** Name of the part, or of the position of it. */
  readonly name: string;
  /** The day its interval began; the report date where it is unknown, so that it is due at once. */
  readonly lastDone: Day;
  /** The day it was last replaced or done; null where none is to be trusted, or it is only assumed. */
  readonly done: Day | null;
  /** Whole months of its running interval, and of those that follow. */
  readonly months: number;
  readonly then: number;
  /** What these go by, so that they can be told for other uses; null where they stand whatever the use. */
  readonly goesBy: GoesBy | null;
  /** Last day in service; null where none is set. */
  readonly until: Day | null;
  /** A finding, or no date to be trusted. */
  readonly dueAtOnce: boolean;
  /** Why its date or usage is not to be trusted, "" where it is. */
  readonly doubt: string;
}

/** The uses a month by which the running interval and those that follow go; null where one does not. */
interface GoesBy {
  readonly now: number | null;
  readonly then: number | null;
  readonly wipes: string;
  /** Months that the register's own limits allow at most; null without any. */
  readonly most: number | null;
}

/** All units and what is assumed of them. */
export interface YearFleet {
  readonly units: readonly YearUnit[];
  /** Parts that could not be included, each with its reason. */
  readonly leftOut: readonly string[];
  /** Devices whose use is an estimate. */
  readonly estimated: readonly string[];
}

/** What the parts in use are calculated from. */
interface FleetAssumptions {
  readonly use: UseAhead;
  readonly whatIf: WhatIf;
  readonly supposed: Supposed;
}

interface Context extends FleetAssumptions {
  readonly reading: Reading;
  readonly common: Common;
  /** Sites whose counts give a forecast. */
  readonly counted: ReadonlySet<string>;
  /** Usage by device key, where a site has an estimate. */
  readonly usage: ReadonlyMap<string, Usage>;
}

/**
 * The parts in use on the report date. The running interval is the register's own; the ones that follow
 * go by the use expected over the time ahead. Doubt about use gives the shortest interval, doubt about a
 * date makes the part due at once. A device in two rows may be two: both count, each in doubt.
 */
export function* fleetSteps(
  snapshot: Snapshot,
  reading: Reading,
  assumed: FleetAssumptions,
): Steps<YearFleet> {
  const { registers, common, parts, rowSteps, rowAt } = judge(snapshot, reading);
  const factsOf = new Map(registers.map(({ facts }) => [facts.sheet.name, facts]));
  const { use, supposed } = assumed;
  const context: Context = {
    ...assumed,
    reading,
    common,
    counted: new Set(use.sites.flatMap(({ site, ahead }) => (ahead.length > 0 ? [site] : []))),
    usage: reading.ours.sites.some(({ expectedUses }) => expectedUses !== null)
      ? usageOf(reading.counts, reading.ours.settings)
      : new Map<string, Usage>(),
  };
  const units: YearUnit[] = [];
  const leftOut: string[] = [];
  const estimated = new Set<string>();
  for (const part of parts) {
    yield;
    yield* rowSteps(part);
    yield;
    reading.devices.forEach((device, at) => {
      const row = rowAt(part, at)?.facts;
      if (row === undefined || row.retired || supposed.retired.has(device.key)) return;
      const unit = unitOf(
        part,
        { device, row, until: leavesOn(factsOf.get(device.sheet), device) },
        context,
      );
      units.push(unit.unit);
      if (unit.estimated) estimated.add(device.id);
    });
    units.push(...addedUnits(part, context));
  }
  return { units, leftOut, estimated: [...estimated] };
}

/** The day a device is to leave, where the register has one to come that nothing contradicts. */
function leavesOn(facts: Facts | undefined, device: Device): Day | null {
  if (facts === undefined || mayHaveLeft(device)) return null;
  const { columns, dated, reading } = facts;
  const value = columns.retiredOn === null ? null : dated(device.row, columns.retiredOn);
  const isAhead = typeof value === "number" && value > reading.ours.settings.reportDate;
  return isAhead && isDay(Math.floor(value)) ? (Math.floor(value) as Day) : null;
}

interface Serving {
  readonly device: Device;
  readonly row: RowFacts;
  readonly until: Day | null;
}

function unitOf(
  part: Part,
  { device, row, until }: Serving,
  context: Context,
): { readonly unit: YearUnit; readonly estimated: boolean } {
  const { reading, use, whatIf, common } = context;
  const site = siteOf(reading.ours.sites, device.site);
  const more = 1 + whatIf.volume;
  const now = more === 1 || typeof row.uses !== "number" ? row : { ...row, uses: row.uses * more };
  // Limits in doubt have careful values: the part stays in every list.
  const known = settled(part);
  const answers = answersOf(known, now, common);
  const expected = use.devices.get(device.key) ?? null;
  const guess = expected === null ? estimateOf(device, site, context) : null;
  const trusted = isTrusted(answers) || answers.check === "Usage missing";
  const uses = expected ?? (guess === null ? null : guess * more);
  const begun = beginning(answers, row, reading.ours.settings.reportDate);
  const most = ownMost(row);
  const usesThen = trusted ? uses : null;
  return {
    unit: {
      device: device.id,
      site,
      part: wholeOf(part),
      name: part.name,
      lastDone: begun.lastDone,
      done: begun.done,
      dueAtOnce: begun.dueAtOnce,
      doubt: known === part ? begun.doubt : [LIMITS_DOUBT, begun.doubt].filter(Boolean).join("; "),
      months: Math.min(
        typeof answers.interval === "number" ? answers.interval : (part.shortest ?? 1),
        most ?? Infinity,
      ),
      then: intervalAt(known, usesThen, row.wipes, most),
      goesBy: part.task
        ? null
        : { now: usesNow(answers, now), then: usesThen, wipes: row.wipes, most },
      until,
    },
    estimated: guess !== null && !part.task,
  };
}

/** Doubt about a use gives the shortest interval, which stands whatever the use. */
function usesNow(answers: Answers, { uses }: RowFacts): number | null {
  return isTrusted(answers) && typeof uses === "number" ? uses : null;
}

/** When its interval began; long ago for a part that is due at once by a finding or for want of a date. */
function beginning(
  answers: Answers,
  { finding, lastDone, doubt }: RowFacts,
  reportDate: Day,
): Pick<YearUnit, "lastDone" | "done" | "dueAtOnce" | "doubt"> {
  const { state, due, check } = answers;
  const longAgo = (reportDate - LONG_AGO) as Day;
  const atOnce = { lastDone: longAgo, dueAtOnce: true };
  if (due === null) {
    const why = doubt === null ? check : `${check} (${doubtText(doubt)})`;
    return { ...atOnce, done: null, doubt: `${why}: taken as due at once` };
  }
  const done = typeof lastDone === "number" ? (Math.floor(lastDone) as Day) : null;
  if (state === "Overdue" && due >= reportDate) {
    return { ...atOnce, done, doubt: `finding ${finding ?? ""}: due at once` };
  }
  return {
    lastDone: done ?? longAgo,
    done,
    dueAtOnce: false,
    doubt: isTrusted(answers) ? "" : check,
  };
}

const LIMITS_DOUBT = "limits on Parts in doubt: the shortest interval known";

/** Longer ago than any interval lasts. */
const LONG_AGO = 121 * 31;

/** Devices that are only assumed: new parts on the report date. */
function addedUnits(part: Part, { reading, whatIf, supposed }: Context): YearUnit[] {
  if (part.task || part.positions !== undefined) return [];
  const { reportDate } = reading.ours.settings;
  return whatIf.added.flatMap(({ site, devices, uses }: Added): YearUnit[] => {
    const code = siteOf(supposed.sites, site);
    const guess = uses ?? guessAt(reading, code);
    const wipes = siteByCode(supposed.sites, code)?.wipes ?? "";
    const expected = guess === null ? null : guess * (1 + whatIf.volume);
    const months = intervalAt(settled(part), expected, wipes);
    const unit: YearUnit = {
      device: "",
      site: code,
      part: wholeOf(part),
      name: part.name,
      lastDone: reportDate,
      done: null,
      months,
      then: months,
      goesBy: { now: expected, then: expected, wipes, most: null },
      until: null,
      dueAtOnce: false,
      doubt: "",
    };
    return Array.from({ length: devices }, () => unit);
  });
}
