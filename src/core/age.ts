import { gammaAtMost, logGamma } from "./chance.ts";
import { InputError, requireAbove } from "./errors.ts";
import { type Life, requireLife } from "./life.ts";

/** How parts age, as functions of their months in use. */
export interface Ageing {
  /** Share worn by then. */
  readonly worn: (months: number) => number;
  /** Share of those still good that wear out a month, at that age. */
  readonly hazard: (months: number) => number;
  /** Months that parts are in use on average when none is used longer. */
  readonly used: (months: number) => number;
}

/** What a replacement costs, in one currency. */
export interface Costs {
  /** On plan. */
  readonly planned: number;
  /** Worn out before the plan. */
  readonly early: number;
}

/** What the least-cost age is looked for in. */
export interface AgeGiven {
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
 * @returns Share worn, hazard and months used, in closed form.
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
    worn: (months) => -Math.expm1(-power(months)),
    hazard: (months) => (shape / scale) * (months / scale) ** (shape - 1),
    used: (months) => {
      const worn = power(months);
      // So long as hardly a part is worn, two terms of the series are exact and do not vanish.
      if (worn < 1e-9) return months * (1 - worn / (shape + 1));
      return whole * gammaAtMost(worn, 1 / shape);
    },
  };
}

/** Every part is long worn before a power this large, and the incomplete gamma function takes it. */
const MOST = 1e10;

/**
 * Cost a month in the long run of replacing at an age, or before it when worn.
 *
 * @param months The age, above 0.
 * @param ageing How parts age.
 * @param costs Cost of a planned and of an early replacement.
 * @returns Cost a month.
 * @throws InputError if the age or a cost is no such number.
 * @see Barlow and Proschan, Mathematical Theory of Reliability (1965), chapter 4.
 * @example
 * ageCost(6, weibullAgeing({ shape: 2.5, scale: 9 }), { planned: 1, early: 4 }).toFixed(4) // => "0.3518"
 */
export function ageCost(months: number, ageing: Ageing, costs: Costs): number {
  requireAbove("months", months);
  requireCosts(costs);
  const share = ageing.worn(months);
  return (costs.planned * (1 - share) + costs.early * share) / ageing.used(months);
}

/**
 * The age at which replacing costs least a month, held between the programme's two ends. Where
 * waiting always costs less (parts do not age, or an early replacement costs no more) it is longest.
 * Advice only: the curve is flat, and longest is never exceeded.
 *
 * @param given How parts age, the costs and the two ends; the hazard must not fall and rise again.
 * @returns The age and its cost, and the cost at either end.
 * @throws InputError if an end or a cost is no such number.
 * @see Barlow and Hunter, Operations Research 8 (1960), policy I.
 * @example
 * bestSpan({ ageing: weibullAgeing({ shape: 2.5, scale: 9 }), costs: { planned: 1, early: 4 }, shortest: 3, longest: 6 }).best.months.toFixed(4) // => "4.9945"
 */
export function bestSpan(given: AgeGiven): {
  readonly best: AgeCost;
  readonly shortest: AgeCost;
  readonly longest: AgeCost;
} {
  const { ageing, costs, shortest, longest } = given;
  requireAbove("shortest", shortest);
  if (!(Number.isFinite(longest) && longest >= shortest)) {
    throw new InputError("longest", "a number of months not below shortest", longest);
  }
  requireCosts(costs);
  const at = (months: number): AgeCost => ({ months, cost: ageCost(months, ageing, costs) });
  // Above zero where a longer age costs more.
  const slope = (months: number): number =>
    (costs.early - costs.planned) *
      (ageing.hazard(months) * ageing.used(months) - ageing.worn(months)) -
    costs.planned;
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
  let [low, high] = [shortest, longest];
  for (let middle = (low + high) / 2; middle > low && middle < high; middle = (low + high) / 2) {
    if (slope(middle) >= 0) high = middle;
    else low = middle;
  }
  return low;
}

function requireCosts({ planned, early }: Costs): void {
  requireAbove("planned", planned);
  if (!(Number.isFinite(early) && early >= 0)) {
    throw new InputError("early", "a number of at least 0", early);
  }
}
