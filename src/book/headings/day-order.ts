import type { Day } from "../../core/day.ts";
import type { DayOrder } from "../languages/language.ts";
import type { DateText } from "./dates.ts";

/** What a column's texts say about the order of day and month, for the column as a whole. */
export interface ColumnOrder {
  /** Null when nothing decides, or when the texts contradict each other. */
  readonly order: DayOrder | null;
  /** Some texts are dates only day first and others only month first. */
  readonly mixed: boolean;
}

/** Days by the letters of the languages we read, months and years likewise: "dd/mm/yyyy", "TT.MM.JJJJ". */
const DAY_FIRST = /(?<!\p{L})([djgt])\1?\s*[-/. ]\s*mm?\s*[-/. ]\s*([yajr])\2{1,3}(?!\p{L})/iu;
const MONTH_FIRST = /(?<!\p{L})mm?\s*[-/. ]\s*([djgt])\1?\s*[-/. ]\s*([yajr])\2{1,3}(?!\p{L})/iu;

/** The order of day and month that a heading states, as in "Replaced (dd/mm/yyyy)". */
function orderIn(heading: string): DayOrder | null {
  if (DAY_FIRST.test(heading)) return "dmy";
  return MONTH_FIRST.test(heading) ? "mdy" : null;
}

/**
 * The order of day and month in a column: as stated, else as its heading has it and from texts that only fit
 * one order.
 */
export function columnOrder(
  texts: Iterable<DateText | null>,
  {
    stated = null,
    heading = "",
  }: { readonly stated?: DayOrder | null; readonly heading?: string } = {},
): ColumnOrder {
  const headed = orderIn(heading);
  let dayFirst = headed === "dmy";
  let monthFirst = headed === "mdy";
  const numbers = [...texts].filter((text) => text?.kind === "numbers");
  // Where the year may come first in all of them they say nothing of day and month.
  const mayBeYears = numbers.every(({ ymd }) => ymd !== null);
  for (const text of mayBeYears ? [] : numbers) {
    if (text.mdy === null) dayFirst = true;
    if (text.dmy === null) monthFirst = true;
  }
  const mixed = dayFirst && monthFirst;
  if (stated !== null) return { order: stated, mixed };
  if (dayFirst === monthFirst) return { order: null, mixed };
  return { order: dayFirst ? "dmy" : "mdy", mixed };
}

/** The one day a text means, or null when that needs an answer first. */
export function dayMeant(
  text: DateText,
  order: DayOrder | null,
  monthDay: "first" | "last" | null = null,
): Day | null {
  if (text.kind === "day") return text.date;
  if (text.kind === "month") return monthDay === null ? null : text[monthDay];
  // The year may come first: no order of day and month says that it does not.
  if (order !== null) return text.ymd === null || text.ymd === text[order] ? text[order] : null;
  return text.ymd === null && text.dmy === text.mdy ? text.dmy : null;
}
