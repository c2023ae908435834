import { addMonths, civilDate, daysInMonth } from "../../core/day.ts";
import type { Series } from "../../core/smooth.ts";
import { spreadAhead, type Tried, triedAhead } from "../../core/spread.ts";
import { percentText } from "../records/percent.ts";
import type { Use, UseMonth } from "./site-use.ts";
import type { UseAhead } from "./use.ts";

/** How uncertain the usage forecast is each number of months ahead, the first being one month. */
export interface UseSpread {
  /** Of all sites together, and of each site besides, as standard deviations of the logarithm. */
  readonly common: readonly number[];
  readonly own: readonly number[];
  /** Too few counts to have tried a forecast over a year: the stated spread stands alone there. */
  readonly isStated: boolean;
}

/**
 * Spread of a year's usage where no forecast could be tried: of the programme and of one site. Own choice,
 * no source: births of a country move by one or two percent a year, those of one house by more.
 */
const STATED_SPREAD = { programme: 0.05, site: 0.1 };

/** Sites whose forecasts are tried. */
const TRIED_SITES = 12;

const YEAR = 12;

/** How uncertain usage ahead is, by what the forecasts of earlier months would have said. */
export function useSpread({ programme, sites }: UseAhead, months: number): UseSpread {
  const whole = triedAhead(perDay(programme), months);
  const common = spreadAhead([whole], STATED_SPREAD.programme);
  const counted = sites.filter(({ history }) => history.length > 0);
  const tried = counted
    .slice(0, TRIED_SITES)
    .map((site): Tried => triedAhead(perDay(site), months));
  const none: Tried = { squares: common.map(() => 0), tries: common.map(() => 0) };
  const alone = spreadAhead([none, ...tried], STATED_SPREAD.site);
  return {
    common,
    own: alone.map((spread, step) =>
      // A single site is the programme.
      counted.length === 1 ? 0 : Math.sqrt(Math.max(0, spread ** 2 - (common[step] ?? 0) ** 2)),
    ),
    isStated: (whole.tries[Math.min(YEAR, months) - 1] ?? 0) === 0,
  };
}

/** How uncertain usage is taken to be a year ahead, in words; "" where no site has counts. */
export function spreadText({ common, own, isStated }: UseSpread, { sites }: UseAhead): string {
  if (!sites.some(({ history }) => history.length > 0)) return "";
  const step = Math.min(YEAR, common.length) - 1;
  const percent = (spread: number | undefined): string => percentText(spread ?? 0, 1);
  const besides = own.some((spread) => spread > 0)
    ? ` and ${percent(own[step])} more of a site`
    : "";
  const why = isStated
    ? "stated, for the counts do not yet reach back two years"
    : "by what earlier forecasts would have missed";
  return `${percent(common[step])} of the programme${besides} (standard deviation ${step + 1} months ahead, ${why})`;
}

/** The same as a sentence. */
export function spreadSays(spread: UseSpread, use: UseAhead): string {
  const text = spreadText(spread, use);
  return text === "" ? "" : `Uncertainty of usage, in the limits: ${text}.`;
}

/** A history as uses a day in each month; null for a month without a complete count. */
function perDay({ history }: Use): Series {
  const [first] = history;
  const last = history.at(-1);
  if (first === undefined || last === undefined) return [];
  const byMonth = new Map(history.map((one: UseMonth) => [one.month, one.uses]));
  const series: (number | null)[] = [];
  for (let month = first.month; month <= last.month; month = addMonths(month, 1)) {
    const uses = byMonth.get(month);
    const { year, month: of } = civilDate(month);
    series.push(uses === undefined ? null : uses / daysInMonth(year, of));
  }
  return series;
}
