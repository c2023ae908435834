import type { CountNote } from "./count-faults.ts";
import type { CountSheet } from "./count-sheets.ts";
import { movedColumns } from "../misplaced/moved-columns.ts";
import { saysTotal } from "../rows/rows.ts";

/** So many numbers below zero, and one in so many, are no slips. */
const ENOUGH = 4;
const ONE_IN = 10;

/**
 * Why no count of a sheet can be trusted: its columns were moved beside each other, or many of its numbers are below zero.
 *
 * @param sheet The counts.
 * @param notes What is told of its cells.
 * @returns The reason; null where there is none.
 */
export function oddSheet(
  sheet: CountSheet,
  notes: readonly CountNote[],
): "moved" | "negative" | null {
  const { page, heading, lastRow, device } = sheet;
  const lines = page.sheet.values.slice(heading.last + 1, lastRow + 1);
  const below = notes.filter(
    ([name, value]) => name === "countFault" && typeof value === "number" && value < 0,
  ).length;
  const columns =
    sheet.shape === "wide" ? sheet.months.map(({ column }) => column) : [sheet.month, sheet.count];
  if (below >= ENOUGH && below * ONE_IN >= lines.length * columns.length) return "negative";
  const body = lines.filter((cells) => !saysTotal(cells[device] ?? null));
  const moved = movedColumns(body);
  const isWith = columns.map((column) => moved.includes(column));
  const isDevice = moved.includes(device);
  return moved.length > 0 && isWith.some((is) => is !== isDevice) && !isSum(body, columns)
    ? "moved"
    : null;
}

/** Whether the last row is the sum of all above it. */
function isSum(lines: readonly (readonly unknown[])[], columns: readonly number[]): boolean {
  return columns.some((column) => {
    const numbers = lines.map((cells) => Number(cells[column] ?? 0));
    const last = numbers.pop() ?? 0;
    return last > 0 && numbers.reduce((sum, one) => sum + one, 0) === last;
  });
}
