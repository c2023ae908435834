import { isoText } from "../core/day.ts";
import type { Problem, Reading } from "../book/records/records.ts";
import type { Today } from "../book/day/today.ts";
import { address } from "../book/workbook/snapshot.ts";

/** Results for machines: rows as people count, dates as ISO text, and stable names. */

export function todayJson(today: Today): object {
  return {
    ...today,
    reportDate: isoText(today.reportDate),
    items: today.items.map((item) => ({
      ...item,
      due: item.due === null ? null : isoText(item.due),
      row: item.row + 1,
    })),
  };
}

export function problemsJson(problems: readonly Problem[]): object[] {
  return problems.map(({ row, column, ...problem }) => ({
    ...problem,
    row: row === null ? null : row + 1,
    cell: row === null || column === null ? null : address(row, column),
  }));
}

export function registerJson({ register, devices }: Reading): object {
  return {
    sheet: register.sheet,
    headerRow: register.headerRow + 1,
    devices: devices.length,
    leftOut: register.leftOut.map(({ row, reason }) => ({ row: row + 1, reason })),
    matches: register.matches.map(({ column, ...match }) => ({
      ...match,
      cell: address(register.headerRow, column),
    })),
    unmatched: register.unmatched,
  };
}
