import type { Day } from "../../../core/day.ts";
import type { CellPlace } from "../../records/problems.ts";
import type { Count } from "../../records/records.ts";
import { isBlank, type Page } from "../../workbook/cells.ts";
import { cellKey, type CellValue } from "../../workbook/snapshot.ts";
import type { CountNote } from "./count-faults.ts";
import type { Line } from "./count-rows.ts";
import type { CountSheet } from "./count-sheets.ts";

/** The device of a row. */
export interface Identified {
  readonly key: string;
  /** As the register writes it. */
  readonly name: string;
}

/** A count as it should be, or a blank. */
export function isPlain(value: CellValue): value is number | null {
  return value === null || (typeof value === "number" && value >= 0 && Number.isInteger(value));
}

/** Whether a program wrote a formula into a cell and none has calculated it: what it counts is unknown. */
export function lacksResult({ sheet }: Page, row: number, column: number): boolean {
  return (
    sheet.formulas.size > 0 &&
    (sheet.values[row]?.[column] ?? null) === null &&
    sheet.formulas.has(cellKey(row, column))
  );
}

/** A cell of counts. */
export interface Entry {
  readonly id: Identified;
  readonly month: Day;
  readonly value: CellValue;
  readonly place: CellPlace & { readonly row: number; readonly column: number };
  /** Whether an earlier entry for the same month may be there. */
  readonly seen: boolean;
  readonly sheet: CountSheet;
  readonly line: Line;
}

/** A count as it stands in its cell. */
export function countOf(
  { notes, reportDate }: { readonly notes: CountNote[]; readonly reportDate: Day },
  { id, month, value, place, sheet: { page } }: Entry,
): Count {
  const lacks = lacksResult(page, place.row, place.column);
  const isFault = lacks || (!isPlain(value) && !isBlank(value));
  if (isFault) notes.push(["countFault", value, place]);
  const faulty = isFault || (month > reportDate && !isBlank(value));
  const { sheet, row, column } = place;
  const count = typeof value === "number" && !faulty ? value : null;
  return { device: id.name, deviceKey: id.key, month, count, faulty, sheet, row, column };
}
