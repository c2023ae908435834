import { type Day, isDay } from "../../core/day.ts";
import { swapped } from "../headings/dates.ts";
import { MONTHS, statedUnit } from "../headings/own-limits.ts";
import {
  ownDays,
  ownDue,
  ownDueField,
  ownIntervalField,
  type OwnLimits,
  ownMonths,
  type OwnUnit,
} from "../records/own-limits.ts";
import { wholeOf } from "../records/positions.ts";
import type { Part } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** Where a register has the limits of its own for a part. */
export interface OwnColumns {
  readonly due: number | null;
  readonly months: { readonly column: number; readonly unit: OwnUnit } | null;
}

/** The columns of a part's own limits, and in what its intervals are counted. */
export function ownColumns(
  part: Part,
  headings: readonly string[],
  columnFor: (field: string) => number | null,
): OwnColumns {
  const column = columnFor(ownIntervalField(part));
  return {
    due: columnFor(ownDueField(part)) ?? columnFor(ownDueField(wholeOf(part))),
    months: column === null ? null : { column, unit: statedUnit(headings[column] ?? "") ?? MONTHS },
  };
}

/** How a row's cells are read: as they stand, and as dates of 1900 books. */
interface Cells {
  readonly plain: (column: number) => CellValue;
  readonly dated: (column: number) => CellValue;
  /** Day and month of its due date may be swapped. */
  readonly isSwapped: boolean;
}

/** The limits of its own that a row has; undefined without a column of them. */
export function ownLimits(
  { due, months }: OwnColumns,
  lastDone: CellValue,
  { plain, dated, isSwapped }: Cells,
): OwnLimits | undefined {
  if (due === null && months === null) return undefined;
  return {
    due: due === null ? null : dueBy(dated(due), lastDone, isSwapped),
    months: months === null ? null : ownMonths(plain(months.column), months.unit),
    days: months === null ? null : ownDays(plain(months.column), months.unit),
  };
}

/** The due date of a cell; the earlier of two that it may be. */
function dueBy(value: CellValue, lastDone: CellValue, isSwapped: boolean): Day | null {
  const due = ownDue(value, lastDone);
  const day = isSwapped && typeof value === "number" ? Math.floor(value) : null;
  const other = day !== null && isDay(day) ? ownDue(swapped(day), lastDone) : null;
  return due === null || (other !== null && other < due) ? other : due;
}
