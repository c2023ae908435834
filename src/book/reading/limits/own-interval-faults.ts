import { MONTHS, statedUnit } from "../../headings/own-limits.ts";
import { ownIntervalField, ownMonths, type OwnUnit } from "../../records/own-limits.ts";
import type { Part, Problem } from "../../records/records.ts";
import { type CellValue, isCellError } from "../../workbook/snapshot.ts";
import { cellError } from "../dates/date-columns.ts";
import {
  doubted,
  isMergedAbove,
  isNothing,
  isUsual,
  type Told,
  type Why,
  withoutLimit,
} from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

/** Own intervals that cannot be read, are hardly meant, or are missing where most rows have one. */
export function intervalFaults(found: Found, { part, devices, say }: Told): Problem[] {
  const column = found.columns.get(ownIntervalField(part));
  if (column === undefined) return [];
  const { sheet } = found.page;
  const heading = found.register.headings[column] ?? "";
  const unit = statedUnit(heading);
  const valueIn = (row: number): CellValue => sheet.values[row]?.[column] ?? null;
  const months = devices.map(({ row, retired }) =>
    retired ? null : ownMonths(valueIn(row), unit ?? MONTHS),
  );
  const known = months.filter((one) => one !== null);
  const others: Others = {
    part,
    isLonger: areUsuallyLonger(known, part),
    least: known.reduce((least, one) => Math.min(least, one), Infinity),
  };
  const isHabit = isUsual(known.filter((one) => one < (part.longest ?? 0)).length, devices);
  return devices.flatMap(({ row, retired }): Problem[] => {
    if (retired) return [];
    const value = valueIn(row);
    const place = { sheet: sheet.name, row, column, heading };
    if (isNothing(value)) {
      const isLost = isHabit || isMergedAbove(found.page, place);
      return withoutLimit(found, place, { isLost, say });
    }
    if (isCellError(value)) {
      return [{ ...cellError(place, value.error), kind: "own limit unread" }];
    }
    const why = whyUnread(value, unit, part) ?? whyDoubtful(value, unit, others);
    return why === null ? [] : [doubted(place, say, [why, value])];
  });
}

/** What the other intervals of a column are. */
interface Others {
  readonly part: Part;
  /** Most of them are longer than ours. */
  readonly isLonger: boolean;
  /** The shortest, in months. */
  readonly least: number;
}

/** Whether most of a column's intervals are longer than ours, as those of another policy may be. */
function areUsuallyLonger(known: readonly number[], { longest }: Part): boolean {
  const longer = known.filter((one) => one > (longest ?? Infinity) && one <= LONGEST_SENSIBLE);
  return longer.length * 2 > known.length;
}

/** Months beyond which no part is meant to be used. */
const LONGEST_SENSIBLE = 36;

/** Why an interval is hardly the one that was meant: 22 or 3.6 where the others are 2 or 3. */
function whyDoubtful(
  value: CellValue,
  unit: OwnUnit | null,
  { part: { longest }, isLonger, least }: Others,
): Why | null {
  const months = ownMonths(value, unit ?? MONTHS);
  if (months === null || longest === null) return null;
  // One and a half months are read as one: careful beside any other.
  const isFraction = value !== Math.floor(Number(value)) && (unit ?? MONTHS).by === 1;
  if (isFraction && months > least && months < longest) {
    return "fraction";
  }
  if (months <= longest || (isLonger && months <= LONGEST_SENSIBLE)) return null;
  return "long";
}

/** Why an interval cannot be read; null where it can. */
function whyUnread(value: CellValue, unit: OwnUnit | null, { longest }: Part): Why | null {
  const months = ownMonths(value, unit ?? MONTHS);
  if (months === null) return "not whole";
  // Months would hardly be so many: they may be weeks or days, and stricter than ours.
  if (unit !== null || longest === null || months <= longest) return null;
  return "no unit";
}
