import { addMonths, type Day } from "../../core/day.ts";
import { NoAnswerError } from "../../core/errors.ts";
import { usageAhead } from "../../core/ahead.ts";
import type { Ours, Reading } from "../records/records.ts";
import { siteByCode } from "../records/site-names.ts";

/** Uses in one calendar month. */
export interface UseMonth {
  readonly month: Day;
  readonly uses: number;
  readonly low: number | null;
  readonly high: number | null;
}

/** What a site, or the whole programme, was and will be used. */
export interface Use {
  /** Site code; "" is a device without a site. */
  readonly site: string;
  /** Months with a complete count, oldest first. */
  readonly history: readonly UseMonth[];
  /** Months to come; empty where there are too few counts. */
  readonly ahead: readonly UseMonth[];
  /** Months of the last year in which some device's count is missing. */
  readonly missing: readonly Day[];
}

/** How far, and under which assumption of volume. */
export interface UseRequest {
  readonly months: number;
  readonly level: number;
  /** Share by which usage is taken to change, such as 0.1. */
  readonly volume: number;
  /** Take sessions from births where the Sites sheet has them. */
  readonly births: boolean;
}

/** A site's counts so far, and what is asked of them. */
interface SiteHistory {
  readonly site: string;
  readonly months: ReadonlyMap<Day, number | null>;
  /** The same with doubtful counts taken otherwise. */
  readonly others: readonly ReadonlyMap<Day, number | null>[];
  readonly from: Day;
  readonly request: UseRequest;
}

/** What a site was used, and will be. */
export function siteUse(
  { site, months, others, from, request }: SiteHistory,
  { ours }: Reading,
): Use {
  const factor = ours.settings.countsBabies ? ours.settings.rescreenFactor : 1;
  const history = historyOf(months, factor);
  // Passing a month over, or following a count too high, may bring a forecast down: the highest holds.
  const ahead = others
    .filter((other) => !sameMonths(other, months))
    .map((other) => forecast(historyOf(other, factor), from, request, false))
    .reduce(higher, forecast(history, from, request, false));
  return {
    site,
    history,
    ahead: byBirths(site, ahead, { from, request, ours }),
    missing: missingMonths(months, from),
  };
}

/** The higher of two forecasts, month by month; none where the first says nothing. */
function higher(one: readonly UseMonth[], other: readonly UseMonth[]): UseMonth[] {
  return one.map((month, at) => ({
    ...month,
    uses: Math.max(month.uses, other[at]?.uses ?? month.uses),
  }));
}

function sameMonths(
  one: ReadonlyMap<Day, number | null>,
  other: ReadonlyMap<Day, number | null>,
): boolean {
  return one === other || [...one].every(([month, count]) => other.get(month) === count);
}

function historyOf(months: ReadonlyMap<Day, number | null>, factor: number): UseMonth[] {
  return [...months]
    .sort(([one], [other]) => one - other)
    .flatMap(([month, count]) =>
      count === null ? [] : [{ month, uses: count * factor, low: null, high: null }],
    );
}

/** Sessions from births, spread over the months as the counts suggest, else by their days. */
function byBirths(
  site: string,
  ahead: readonly UseMonth[],
  {
    from,
    request,
    ours,
  }: { readonly from: Day; readonly request: UseRequest; readonly ours: Ours },
): readonly UseMonth[] {
  const births = siteByCode(ours.sites, site)?.births ?? null;
  if (!request.births || births === null) return ahead;
  const { coverage, rescreenFactor } = ours.settings;
  const whole = births * coverage * rescreenFactor * (1 + request.volume) * (request.months / 12);
  const shape = Array.from({ length: request.months }, (_, at) => {
    const month = addMonths(from, at);
    return { month, weight: ahead[at]?.uses ?? addMonths(month, 1) - month };
  });
  const weights = shape.reduce((sum, { weight }) => sum + weight, 0);
  return shape.map(({ month, weight }) => ({
    month,
    uses: weights === 0 ? 0 : (whole * weight) / weights,
    low: null,
    high: null,
  }));
}

/** Ended months of the last year without a complete count, up to the one before the report date. */
function missingMonths(months: ReadonlyMap<Day, number | null>, from: Day): Day[] {
  if (months.size === 0) return [];
  const first = Math.min(...months.keys());
  return Array.from({ length: 12 }, (_, back) => addMonths(from, back - 12)).filter(
    (month) => month >= first && (months.get(month) ?? null) === null,
  );
}

/** Months to come from the running one on; none where there are fewer than three counts. */
export function forecast(
  known: readonly UseMonth[],
  from: Day,
  { months, level, volume }: UseRequest,
  limits: boolean,
): UseMonth[] {
  const last = known.at(-1)?.month;
  if (last === undefined) return [];
  let gap = 0;
  for (let month = addMonths(last, 1); month < from; month = addMonths(month, 1)) gap += 1;
  try {
    const ahead = usageAhead(
      known.map(({ uses }) => uses),
      known.map(({ month }) => month),
      { months: gap + months, level, zeroCounts: true, limits },
    );
    const more = 1 + volume;
    return ahead.slice(gap).map(({ month, expected, low, high }) => ({
      month,
      uses: expected * more,
      low: low === null ? null : low * more,
      high: high === null ? null : high * more,
    }));
  } catch (error) {
    if (error instanceof NoAnswerError) return [];
    throw error;
  }
}
