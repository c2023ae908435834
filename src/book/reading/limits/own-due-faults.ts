import { addMonths, type Day } from "../../../core/day.ts";
import { earliestReading } from "../../headings/dates.ts";
import { ownDueField, partOfField } from "../../records/own-limits.ts";
import { partKey } from "../../records/positions.ts";
import type { Device, Ours, Part, Problem } from "../../records/records.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import { dateColumn } from "../devices/devices.ts";
import {
  type Cell,
  doubted,
  isMergedAbove,
  isNothing,
  isUsual,
  type Rows,
  type Told,
  withoutLimit,
} from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

/** Fewer rows that agree may do so by chance. */
const FEWEST = 3;

/** A column of own due dates with how each stands to its row's last replacement; null where it cannot be compared. */
export function ownDues(found: Found, ours: Ours, { part, devices }: Rows) {
  const column = dateColumn(found, ours, ownDueField(part));
  if (column === null) return null;
  const lasts = devices.map((device) => lastOf(device, part));
  const standing = devices.map(({ retired }, at): Standing | null => {
    const [date, last] = [column.dates[at] ?? null, lasts[at] ?? null];
    return retired || date === null || last === null ? null : standingOf(date, last, part);
  });
  return { column, lasts, standing };
}

export type Dues = NonNullable<ReturnType<typeof ownDues>>;

/** Own due dates that cannot be read, contradict the last replacement, or are missing where most rows have one. */
export function dueFaults(found: Found, ours: Ours, { part, devices, say }: Told): Problem[] {
  const dues = ownDues(found, ours, { part, devices });
  if (dues === null) return [];
  const isHabit = isUsual(dues.standing.filter((one) => one === "stricter").length, devices);
  return devices.flatMap(({ row, retired }, at): Problem[] => {
    if (retired) return [];
    const { column, heading, swapped, dates } = dues.column;
    const place = { sheet: found.page.sheet.name, row, column, heading };
    const told = swapped.get(at);
    // Either day may be the earlier one, and either may be met: all of them are told, to be mended together.
    if (told !== undefined) return [told];
    const date = dates[at] ?? null;
    if (date === null) return noDue(found, place, { dues, at, part, isHabit, say });
    const [last, stands] = [dues.lasts[at] ?? null, dues.standing[at]];
    if (stands === "met") {
      const why = areCopied(dues) ? "copied" : isHabit ? "met, others stricter" : "met";
      return [doubted(place, say, [why, date, last])];
    }
    return stands === "far" && isHabit ? [doubted(place, say, ["far", date])] : [];
  });
}

/** Whether all are the days of the last replacement: one column was filled from the other, and neither is known. */
export function areCopied({ column, lasts, standing }: Dues): boolean {
  const both = standing.flatMap((one, at) => (one === null ? [] : [at]));
  return both.length >= FEWEST && both.every((at) => column.dates[at] === lasts[at]);
}

/** A cell that has no due date: nothing, where nothing is lost, or what it has instead. */
function noDue(
  found: Found,
  place: Cell,
  {
    dues: { column, lasts },
    at,
    part,
    isHabit,
    say,
  }: Pick<Told, "part" | "say"> & {
    readonly dues: Dues;
    readonly at: number;
    readonly isHabit: boolean;
  },
): Problem[] {
  const value = found.page.sheet.values[place.row]?.[place.column] ?? null;
  const last = lasts[at] ?? null;
  if (isNothing(value)) {
    const isLost = last !== null && (isHabit || isMergedAbove(found.page, place));
    return withoutLimit(found, place, { isLost, say });
  }
  if (column.swapped.size === 0 && !isHabit && isLaterAnyway(value, last, part)) return [];
  const told = column.faults.get(at) ?? doubted(place, say, ["unread", value]);
  return [{ ...told, kind: "own limit unread" }];
}

/** How an own due date stands to the last replacement and to our longest interval. */
type Standing = "met" | "stricter" | "later" | "far";

function standingOf(date: Day, last: Day, { longest }: Part): Standing {
  if (date <= last) return "met";
  if (longest === null || date < addMonths(last, longest)) return "stricter";
  // A day or two more are those of a weekend.
  return date < addMonths(last, longest + 1) ? "later" : "far";
}

/** A text that is later than the longest interval allows, however it is read, changes nothing. */
function isLaterAnyway(value: CellValue, last: Day | null, { longest }: Part): boolean {
  const day = typeof value === "string" ? earliestReading(value) : null;
  return day !== null && last !== null && longest !== null && day >= addMonths(last, longest);
}

function lastOf(device: Device, part: Part): Day | null {
  const dates = device.lastDone
    .filter(({ part: key }) =>
      part.position === undefined
        ? partOfField(`last:${key}`) === part.code
        : key === partKey(part),
    )
    .flatMap(({ date }) => date ?? []);
  return dates.length === 0 ? null : (Math.min(...dates) as Day);
}
