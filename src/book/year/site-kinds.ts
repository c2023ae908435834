import { bestInterval, weibullAgeing } from "../../core/age.ts";
import { failedUnder, lifeUnder } from "../../core/exposed.ts";
import type { Part } from "../records/records.ts";
import { costsOf } from "./costs.ts";
import type { YearUnit } from "./fleet.ts";
import { exposureIn, type LifeChoice, mayHoldAlcohol } from "./life-choice.ts";

/** Whether an interval fits the devices of one kind of site, by those among them whose parts wear soonest. */
export interface KindFit {
  readonly interval: "longest" | "between" | "shortest";
  /** Whether their wipes may hold alcohol; null where it makes no difference. */
  readonly alcohol: boolean | null;
  /** Devices of the kind, and the most that one of them is used a month. */
  readonly devices: number;
  readonly uses: number;
  /** The interval of that one, and the share worn before it. */
  readonly months: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
  /** Months at which a month costs least, never above the interval; null without the costs of both kinds. */
  readonly leastCost: number | null;
}

const LEVEL = 0.95;

/** The kinds of sites in which a part is used, each with how its interval fits: where use or wipes count. */
export function kindFits(part: Part, units: readonly YearUnit[], choice: LifeChoice): KindFit[] {
  if (choice.by === "months" && !choice.wipes) return [];
  const kinds = new Map<string, KindFit>();
  for (const unit of units) {
    const fit = fitOf(part, unit, choice);
    if (fit === null) continue;
    const key = `${fit.interval} ${String(fit.alcohol)}`;
    const other = kinds.get(key);
    const worse = other === undefined || fit.share > other.share ? fit : other;
    const uses = Math.max(fit.uses, other?.uses ?? 0);
    kinds.set(key, { ...worse, uses, devices: (other?.devices ?? 0) + 1 });
  }
  return [...kinds.values()].sort((one, other) => other.share - one.share);
}

function fitOf(part: Part, { goesBy, then: months }: YearUnit, choice: LifeChoice): KindFit | null {
  const uses = goesBy?.then ?? null;
  if (goesBy === null || uses === null) return null;
  const alcohol = mayHoldAlcohol(goesBy.wipes);
  const exposure = exposureIn(choice, { uses, alcohol });
  return {
    interval: intervalOf(part, months),
    alcohol: choice.wipes ? alcohol : null,
    devices: 1,
    uses,
    months,
    ...failedUnder(choice.fit, { ...exposure, months }, LEVEL),
    leastCost: leastCost(part, months, choice, exposure),
  };
}

function intervalOf({ shortest, longest }: Part, months: number): KindFit["interval"] {
  if (months <= (shortest ?? 0)) return "shortest";
  return months >= (longest ?? Infinity) ? "longest" : "between";
}

/** Advice only: from the shortest interval to the one that applies, and never beyond it. */
function leastCost(
  part: Part,
  months: number,
  { fit }: LifeChoice,
  exposure: ReturnType<typeof exposureIn>,
): number | null {
  const costs = costsOf(part);
  const shortest = Math.min(part.shortest ?? months, months);
  if (costs === null) return null;
  const ageing = weibullAgeing(lifeUnder(fit, exposure));
  return bestInterval({ ageing, costs, shortest, longest: months }).best.months;
}
