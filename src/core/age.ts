import { bisected } from "./bisection.ts";
import { gammaAtMost, logGamma } from "./chance.ts";
import { InputError, requireAbove } from "./errors.ts";
import { type Life, requireLife } from "./life.ts";

/** How parts age, as functions of their months in use. */
export interface Ageing {
  /** Share failed by then. */
  readonly failed: (months: number) => number;
  /** Share of those still good that fail a month, at that age. */
  readonly hazard: (months: number) => number;
  /** Months that parts are in use on average when none is used longer. */
  readonly used: (months: number) => number;
}

/** What a replacement costs, in one currency. */
export interface Costs {
  /** On schedule. */
  readonly scheduled: number;
  /** Failed before it was due. */
  readonly unplanned: number;
}

/** What the least-cost age is looked for in. */
export interface AgeChoice {
  readonly ageing: Ageing;
  readonly costs: Costs;
  /** Months, above 0. */
  readonly shortest: number;
  /** Months, not below shortest; the answer is never longer. */
  readonly longest: number;
}

/** An age and what it costs a month to replace at it. */
export interface AgeCost {
  readonly months: number;
  readonly cost: number;
}

/**
 * How parts of a Weibull life age.
 *
 * @param life Shape and scale in months.
 * @returns Share failed, hazard and months used, in closed form.
 * @throws InputError if shape or scale is not above 0.
 * @example
 * weibullAgeing({ shape: 1, scale: 10 }).hazard(3) // => 0.1
 */
export function weibullAgeing(life: Life): Ageing {
  requireLife(life);
  const { shape, scale } = life;
  const whole = scale * Math.exp(logGamma(1 + 1 / shape));
  const power = (months: number): number => Math.min(MOST, (months / scale) ** shape);
  return {
    failed: (months) => -Math.expm1(-power(months)),
    hazard: (months) => (shape / scale) * (months / scale) ** (shape - 1),
    used: (months) => {
      const exponent = power(months);
      // So long as hardly a part has failed, two terms of the series are exact and do not vanish.
      if (exponent < 1e-9) return months * (1 - exponent / (shape + 1));
      return whole * gammaAtMost(exponent, 1 / shape);
    },
  };
}

/** Every part has long failed before a power this large, and the incomplete gamma function takes it. */
const MOST = 1e10;

/**
 * Cost a month in the long run of replacing at an age, or at failure before it.
 *
 * @param months The age, above 0.
 * @param ageing How parts age.
 * @param costs Cost of a scheduled and of an unplanned replacement.
 * @returns Cost a month.
 * @throws InputError if the age or a cost is no such number.
 * @see Barlow and Proschan, Mathematical Theory of Reliability (1965), chapter 4.
 * @example
 * ageCost(6, weibullAgeing({ shape: 2.5, scale: 9 }), { scheduled: 1, unplanned: 4 }).toFixed(4) // => "0.3518"
 */
export function ageCost(months: number, ageing: Ageing, costs: Costs): number {
  requireAbove("months", months);
  requireCosts(costs);
  const share = ageing.failed(months);
  return (costs.scheduled * (1 - share) + costs.unplanned * share) / ageing.used(months);
}

/**
 * The age at which replacing costs least a month, held between the programme's two ends. Where
 * waiting always costs less (parts do not age, or an unplanned replacement costs no more) it is longest.
 * Advice only: the curve is flat, and longest is never exceeded.
 *
 * @param choice How parts age, the costs and the two ends; the hazard must not fall and rise again.
 * @returns The age and its cost, and the cost at either end.
 * @throws InputError if an end or a cost is no such number.
 * @see Barlow and Hunter, Operations Research 8 (1960), policy I.
 * @example
 * bestInterval({ ageing: weibullAgeing({ shape: 2.5, scale: 9 }), costs: { scheduled: 1, unplanned: 4 }, shortest: 3, longest: 6 }).best.months.toFixed(4) // => "4.9945"
 */
export function bestInterval(choice: AgeChoice): {
  readonly best: AgeCost;
  readonly shortest: AgeCost;
  readonly longest: AgeCost;
} {
  const { ageing, costs, shortest, longest } = choice;
  requireAbove("shortest", shortest);
  if (!(Number.isFinite(longest) && longest >= shortest)) {
    throw new InputError("longest", "a number of months not below shortest", longest);
  }
  requireCosts(costs);
  const at = (months: number): AgeCost => ({ months, cost: ageCost(months, ageing, costs) });
  // Above zero where a longer age costs more.
  const slope = (months: number): number =>
    (costs.unplanned - costs.scheduled) *
      (ageing.hazard(months) * ageing.used(months) - ageing.failed(months)) -
    costs.scheduled;
  return {
    best: at(turn(slope, shortest, longest)),
    shortest: at(shortest),
    longest: at(longest),
  };
}

// Where a rising slope passes zero between two ages, or the end it does not pass before or beyond.
function turn(slope: (months: number) => number, shortest: number, longest: number): number {
  if (!(slope(longest) > 0)) return longest;
  if (slope(shortest) >= 0) return shortest;
  return bisected(shortest, longest, (months) => slope(months) >= 0)[0];
}

function requireCosts({ scheduled, unplanned }: Costs): void {
  requireAbove("scheduled", scheduled);
  if (!(Number.isFinite(unplanned) && unplanned >= 0)) {
    throw new InputError("unplanned", "a number of at least 0", unplanned);
  }
}
