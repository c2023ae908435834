import type { Day } from "../../../core/day.ts";
import { AFTER_PART } from "../../answers/titles.ts";
import { hasEnded } from "../../headings/period.ts";
import { deviceKey } from "../../records/device-key.ts";
import { isLastDone } from "../../records/positions.ts";
import type { Problem } from "../../records/records.ts";
import { identifierAt, trueDate } from "../../workbook/cells.ts";
import { placeIn } from "../register/cell-place.ts";
import type { Named } from "../devices/devices.ts";
import { isCopy, isKeptAs, isSetAside } from "../register/register-alike.ts";
import type { Found, Search } from "../register/register.ts";
import type { Matching } from "../register/register-sheet.ts";
import { faultLater } from "../told/told-later.ts";

/** A date of the register and the one that a sheet beside it has for the same part of the same device. */
export interface TwoDates {
  readonly device: Named;
  readonly column: number;
  readonly date: Day;
  readonly other: Day;
}

/** Dates of the same devices that differ on a sheet kept as the register is. */
export function differingDates(found: Found, named: readonly Named[], other: Matching): TwoDates[] {
  const { page, heading, lastRow, matches } = other;
  const columnOf = (wanted: string): number | undefined =>
    matches.find(({ field }) => field === wanted)?.column;
  const rows = new Map<string, number>();
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    rows.set(deviceKey(identifierAt(page, row, columnOf("device") ?? 0)), row);
  }
  return found.register.matches.flatMap(({ field, column }) => {
    const theirs = isLastDone(field) ? columnOf(field) : undefined;
    if (theirs === undefined) return [];
    return named.flatMap((device): TwoDates[] => {
      const date = trueDate(found.page, device.row, column);
      const there = trueDate(page, rows.get(device.key) ?? -1, theirs);
      return date === null || there === null || date === there
        ? []
        : [{ device, column, date, other: there }];
    });
  });
}

const OURS = new RegExp(`: (?:${AFTER_PART.replaced}|${AFTER_PART.done})$`, "iu");

/** Whether dates stand in columns of ours, as on a register made of other sheets. */
function hasOurs({ matches }: Pick<Matching, "matches">): boolean {
  return matches.some(({ field, heading }) => isLastDone(field) && OURS.test(heading));
}

/** Whether a register was made of a sheet that stays behind: what is typed since, is typed in the register. */
export function isMadeOf({ register }: Found, other: Matching): boolean {
  return hasOurs(register) && !hasOurs(other);
}

/**
 * Dates that a second sheet of the same devices has an earlier one for, where no name says which of the two is old: the
 * later one would lengthen the interval, and nobody knows that it holds.
 */
export function copiedDates(
  found: Found,
  named: readonly Named[],
  { picked, others }: Search,
  reportDate: Day,
): Problem[] {
  const [main] = picked;
  const rivals = others.filter(
    (one) =>
      main !== undefined &&
      isKeptAs(one, main) &&
      isCopy(one, picked) &&
      !isSetAside(one.found) &&
      !isMadeOf(found, one.found) &&
      !hasEnded(one.found.page.sheet.name, reportDate),
  );
  return rivals.flatMap(({ found: other }) =>
    differingDates(found, named, other).flatMap(({ device, column, date, other: there }) => {
      if (there > date || device.retired) return [];
      const { name } = other.page.sheet;
      const place = placeIn(found, device.row, column);
      return faultLater("copies disagree", place, "copiesDisagree", name, there, device.id);
    }),
  );
}
