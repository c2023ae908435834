import { type Day, isoText } from "../../core/day.ts";
import { isNameAlone } from "../headings/around.ts";
import { namesWork } from "../headings/planned.ts";
import { type CellPlace, fault } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { quoted } from "../workbook/cells.ts";

/** From so many dates ahead on, and so large a share of all, they are hardly slips of the pen. */
const ENOUGH = 2;
const SHARE = 0.1;
/** So many and so large a share of dates ahead are no slips under any heading. */
const MANY = 5;
const MOST = 0.8;

/**
 * Dates below a part's name alone, or a noun such as "replacement", several of them ahead, or under any heading most of them: they may be the days it is next due, and the past ones among
 * them would lengthen an interval by a whole one. None is used until the heading says what they are.
 */
export function mayBeDueDates(
  place: CellPlace,
  dates: readonly (Day | null)[],
  reportDate: Day,
): Problem | null {
  const known = dates.filter((date) => date !== null);
  const [first, ...others] = known.filter((date) => date > reportDate);
  const ahead = others.length + 1;
  const isNamed = isNameAlone(place.heading) || namesWork(place.heading);
  const [enough, share] = isNamed ? [ENOUGH, SHARE] : [MANY, MOST];
  if (first === undefined || ahead < enough || ahead < known.length * share) return null;
  return fault(
    "due dates",
    place,
    `${ahead} of ${known.length} dates under ${quoted(place.heading)} are after the report date ${isoText(reportDate)}, such as ${isoText(first)}: they may be the days when the part is next due. None of them is used.`,
    !isNamed
      ? "If they are planned or due dates, say so in the heading and give the last replacements a column of their own; else correct the dates, or the report date."
      : `If they are due dates, say so in the heading, such as ${quoted(`${place.heading} next due`)}, and give the last replacements a column of their own. If they are last replacements, name it ${quoted(`${place.heading} replaced`)} and correct the dates, or the report date.`,
  );
}
