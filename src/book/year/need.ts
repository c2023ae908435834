import { needsAhead, type Wear } from "../../core/need.ts";
import { type HeldLimits, limitsAlong } from "../../core/error-mix.ts";
import type { OpenUnit } from "../../core/open-fleet.ts";
import {
  type AskedFollowing,
  type Following,
  openAtPoints,
  openFollowing,
} from "../../core/open-need.ts";
import type { Distribution } from "../../core/distribution.ts";
import type { MonthSpan } from "../../core/schedule.ts";
import type { Part } from "../records/records.ts";
import type { YearUnit } from "./fleet.ts";
import { aheadOf, type Horizon, monthsAhead } from "./horizon.ts";
import { openUnits } from "./open.ts";
import type { WearFound } from "./wear.ts";

/** Replacements expected in a month. */
export interface Need {
  readonly scheduled: number;
  readonly unplanned: number;
}

/** A month of a part, or all of them together, with limits for the whole fleet. */
export interface LimitedNeed extends Need, HeldLimits {
  readonly expected: number;
}

/** What one site needs of a part. */
export interface SiteNeed {
  readonly site: string;
  readonly units: number;
  /** One entry a month of the year ahead. */
  readonly months: readonly Need[];
}

/** The year ahead of one part. */
export interface PartYear {
  readonly part: Part;
  readonly wear: WearFound;
  readonly units: readonly YearUnit[];
  /** What each of the units needs, month by month. */
  readonly unitNeeds: readonly (readonly Need[])[];
  /** What all of them need, month by month. */
  readonly needs: readonly Need[];
  /** The same with limits, which are worked out when first asked for: orders and budgets do without. */
  readonly months: readonly LimitedNeed[];
  readonly total: LimitedNeed;
  /** All of them, with limits that hold with another chance than the year's. */
  readonly totalAt: (level: number) => LimitedNeed;
  readonly sites: readonly SiteNeed[];
  /** Its units with the intervals that usage may give them. */
  readonly open: () => readonly OpenUnit[];
}

/** What a part needs in the months ahead: by site, in sum, and with limits. */
export function partYear(
  part: Part,
  units: readonly YearUnit[],
  wear: WearFound,
  horizon: Horizon,
): PartYear {
  const counted = part.task ? null : wear.wear;
  const unitNeeds = unitNeedsOf(units, counted, horizon);
  // What usage may make of them is the same for all that is asked.
  let known: readonly OpenUnit[] | null = null;
  const open = (): readonly OpenUnit[] => (known ??= openUnits(units, horizon));
  const sites = siteNeeds(units, unitNeeds, horizon);
  const all = monthsAhead(horizon).map((_, at) =>
    sumNeed(sites.map((site) => site.months[at] ?? NONE)),
  );
  // Months and all of them are asked for apart.
  let limits: HeldLimits[] | null = null;
  let whole: SpanPoints[] | null = null;
  const need = sumNeed(all);
  const totalAt = (level: number): LimitedNeed => {
    whole ??= pointsOf(open(), counted, horizon, [[0, horizon.months]]);
    return limited(need, limitsOf(whole, level, expectedOf(need))[0]);
  };
  return {
    part,
    wear,
    units,
    unitNeeds,
    sites,
    needs: all,
    open,
    get months() {
      const spans = all.map((_, at): MonthSpan => [at, at]);
      limits ??= limitsOf(pointsOf(open(), counted, horizon, spans), horizon.level);
      return all.map((need, at) => limited(need, limits?.[at]));
    },
    get total() {
      return totalAt(horizon.level);
    },
    totalAt,
  };
}

const NONE: Need = { scheduled: 0, unplanned: 0 };

/** Scheduled and unplanned added up. */
export function sumNeed(needs: readonly Need[]): Need {
  return needs.reduce(
    (sum, one) => ({
      scheduled: sum.scheduled + one.scheduled,
      unplanned: sum.unplanned + one.unplanned,
    }),
    NONE,
  );
}

function expectedOf({ scheduled, unplanned }: Need): number {
  return scheduled + unplanned;
}

function limited(need: Need, limits: HeldLimits | undefined): LimitedNeed {
  const expected = expectedOf(need);
  return { ...need, expected, ...(limits ?? { low: expected, high: expected, holds: 1 }) };
}

/** What each unit needs; nothing after the month in which it leaves. */
function unitNeedsOf(
  units: readonly YearUnit[],
  wear: Wear,
  horizon: Horizon,
): (readonly Need[])[] {
  return needsAhead(units, aheadOf(horizon), wear).map((need, at) => {
    const until = units[at]?.until ?? null;
    return until === null ? need : need.map((one) => (one.month > until ? NONE : one));
  });
}

type Writable<Of> = { -readonly [Key in keyof Of]: Of[Key] };

function siteNeeds(
  units: readonly YearUnit[],
  needs: readonly (readonly Need[])[],
  horizon: Horizon,
): SiteNeed[] {
  const sites = new Map<string, { units: number; months: Writable<Need>[] }>();
  units.forEach((unit, at) => {
    const site = sites.get(unit.site) ?? {
      units: 0,
      months: monthsAhead(horizon).map(() => ({ ...NONE })),
    };
    sites.set(unit.site, site);
    site.units += 1;
    site.months.forEach((sum, month) => {
      const { scheduled, unplanned } = needs[at]?.[month] ?? NONE;
      sum.scheduled += scheduled;
      sum.unplanned += unplanned;
    });
  });
  return [...sites]
    .map(([site, rest]) => ({ site, ...rest }))
    .sort((one, other) => one.site.localeCompare(other.site, "en"));
}

/** Chances of each number in a span, at each point of the error that all units share. */
type SpanPoints = readonly Distribution[];

/** Units that leave count until their last month. */
function pointsOf(
  units: readonly OpenUnit[],
  wear: Wear,
  horizon: Horizon,
  spans: readonly MonthSpan[],
): SpanPoints[] {
  return openAtPoints(units, aheadOf(horizon), wear, { spans }).map((points) =>
    points.map(({ distribution }) => distribution),
  );
}

/**
 * Limits of some spans, about what is expected; about the mean over what usage may do where that is not given. That mean
 * is below what comes: an interval that grows is looked at again before it is over. So a year's limits lie about what
 * is expected; those of a month cannot, for use moves a need from one month to another.
 */
function limitsOf(
  spans: readonly SpanPoints[],
  level: number,
  expected: number | null = null,
): HeldLimits[] {
  return spans.map((points) => limitsAlong(points, level, expected));
}

/** What follows from a part's replacements, such as the packs of its places. */
export function followingOf(
  { open, part, wear }: PartYear,
  horizon: Horizon,
  asked: AskedFollowing,
): Following {
  const counted = part.task ? null : wear.wear;
  return openFollowing(open(), aheadOf(horizon), counted, asked);
}
