import { DATE_DOUBTS, type Doubt } from "../records/problem-kinds.ts";
import type { Device, Part } from "../records/records.ts";
import type { RegisterReading } from "../records/registers.ts";

/** Why a date or a limit of a register is not to be trusted; of a whole column without a row. */
export interface DateDoubt {
  readonly row: number | null;
  readonly column: number;
  readonly doubt: Doubt;
}

/** The problems that put dates or limits of a register in doubt. */
export function doubtfulDates({ problems, register }: RegisterReading): DateDoubt[] {
  const doubts: DateDoubt[] = [];
  for (const { sheet, row, column, kind } of problems) {
    const doubt = DATE_DOUBTS.find((one) => one === kind);
    if (column === null || doubt === undefined || sheet !== register.sheet) continue;
    doubts.push({ row, column, doubt });
  }
  return doubts;
}

/** Why the date or a limit of each device is not to be trusted, by the part's columns where it has any. */
export function doubtsByDevice(
  devices: readonly Device[],
  part: Part,
  { all, columns }: { readonly all: readonly DateDoubt[]; readonly columns: readonly number[] },
): (Doubt | null)[] {
  let whole: Doubt | null = null;
  const byRow = new Map<number, Doubt>();
  for (const { row, column, doubt } of all) {
    if (!columns.includes(column)) continue;
    if (row === null) whole ??= doubt;
    else byRow.set(row, doubt);
  }
  return devices.map(({ row, retired, doubt, doubtedParts }) => {
    const said = doubt ?? (doubtedParts?.includes(part.code) === true ? "remark" : null);
    if (columns.length === 0) return said;
    return retired ? null : (said ?? whole ?? byRow.get(row) ?? null);
  });
}

const SWAPPED: Doubt = "day and month swapped";

/** Rows in which day and month of a column may be swapped; none without a column. */
export function swappedRows(
  all: readonly DateDoubt[],
  column: number | null,
): ReadonlySet<number | null> {
  const own = all.filter((one) => one.column === column && one.doubt === SWAPPED);
  return new Set(own.map(({ row }) => row));
}
