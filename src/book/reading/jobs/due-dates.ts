import type { Day } from "../../../core/day.ts";
import { isNameAlone } from "../../headings/around.ts";
import { namesWork } from "../../headings/planned.ts";
import type { CellPlace } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { faultLater } from "../told/told-later.ts";

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
  const ahead = known.filter((date) => date > reportDate).length;
  const isNamed = isNameAlone(place.heading) || namesWork(place.heading);
  const [enough, share] = isNamed ? [ENOUGH, SHARE] : [MANY, MOST];
  if (ahead < enough || ahead < known.length * share) return null;
  return faultLater("due dates", place, "mayBeDue", place.heading, isNamed, known, reportDate);
}
