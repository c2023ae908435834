import type { OpenUnit } from "../../core/open-fleet.ts";
import { openDistributions } from "../../core/open-need.ts";
import { certain, type Distribution } from "../../core/distribution.ts";
import type { Wear } from "../../core/need.ts";
import { dueOn } from "../../core/schedule.ts";
import { settled } from "../records/curve.ts";
import type { YearUnit } from "./fleet.ts";
import { aheadOf, type Horizon, monthsAhead } from "./horizon.ts";
import type { PartYear } from "./need.ts";
import { openUnits, settledUnit } from "./open.ts";

/**
 * Chances of each number of replacements of some units in the next days, their intervals being those of the register:
 * what usage may make of them is in `plannedWithin`.
 */
export function countWithin(
  units: readonly YearUnit[],
  { wear, part }: PartYear,
  horizon: Horizon,
  days: number,
): Distribution {
  const ahead = monthsAhead(horizon);
  const known = units.map((unit) => settledUnit(unit, ahead));
  return withinDays(known, part.task ? null : wear.wear, horizon, days);
}

/**
 * Chances of each number of them that come due in the next days, with what usage may still make of their intervals,
 * which are looked at with every month's counts; without wear.
 */
export function plannedWithin(
  units: readonly YearUnit[],
  horizon: Horizon,
  days: number,
): Distribution {
  const until = horizon.reportDate + days;
  // Even the shortest interval brings most of them no further than that.
  const near = units.filter(({ lastDone, months, part, dueAtOnce }) => {
    const least = Math.min(months, Math.floor(settled(part).shortest ?? 1));
    return dueAtOnce || dueOn(lastDone, least, horizon) <= until;
  });
  return withinDays(openUnits(near, horizon, "highest"), null, horizon, days);
}

function withinDays(
  units: readonly OpenUnit[],
  wear: Wear,
  horizon: Horizon,
  days: number,
): Distribution {
  const near = aheadOf(horizon, days);
  const here = units.map((unit) => ({
    ...unit,
    last: unit.last < horizon.months ? unit.last : near.horizon,
  }));
  const [counts] = openDistributions(here, near, wear, { spans: [[0, near.horizon]] });
  return counts ?? certain(0);
}
