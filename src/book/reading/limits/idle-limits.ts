import { MONTHS, statedUnit } from "../../headings/own-limits.ts";
import { ownIntervalField, ownMonths } from "../../records/own-limits.ts";
import { counted, notice } from "../../records/problems.ts";
import type { Device, Ours, Part, Problem } from "../../records/records.ts";
import { isBlank, quoted, textOf } from "../../workbook/cells.ts";
import { cellKey, type CellValue } from "../../workbook/snapshot.ts";
import { isNothing } from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

/** Fewer rows say nothing about a column. */
const FEWEST = 3;
/** So many numbers in a row that change by the same step are no chance. */
const RUN = 5;

/**
 * Columns of the register's own intervals that do nothing: empty, longer than ours or past belief in most rows and
 * shorter in none, or filled downwards. Somebody wrote them to be stricter than ours, which alone count now.
 */
export function idleIntervals(found: Found, ours: Ours, devices: readonly Device[]): Problem[] {
  const rows = devices.filter(({ retired }) => !retired).map(({ row }) => row);
  if (rows.length < FEWEST) return [];
  return ours.parts.flatMap((part): Problem[] => {
    const column = found.columns.get(ownIntervalField(part));
    if (column === undefined) return [];
    const heading = found.register.headings[column] ?? "";
    const why = whyIdle(found, rows, { part, column, heading });
    if (why === null) return [];
    const place = { sheet: found.page.sheet.name, row: null, column, heading };
    const none = `write none under "Column ${ownIntervalField(part)}" in Setup`;
    const fix = `Correct the column; if ${part.name} has no interval of its own, ${none}.`;
    return [notice("own limit unclear", place, why, fix)];
  });
}

/** Why a column of intervals is not to be relied upon, in words; null where one of them is stricter than ours. */
function whyIdle(
  { page: { sheet } }: Found,
  rows: readonly number[],
  {
    part: { longest },
    column,
    heading,
  }: { readonly part: Part; readonly column: number; readonly heading: string },
): string | null {
  const values = rows.map((row) => sheet.values[row]?.[column] ?? null);
  const isEmpty = rows.every(
    (row, at) => isBlank(values[at] ?? null) && !sheet.formulas.has(cellKey(row, column)),
  );
  if (isEmpty) return `${quoted(heading)} holds no interval in any row: ours alone count.`;
  const step = steadyStep(values);
  if (step !== null) {
    return `The numbers under ${quoted(heading)} change by ${step} from row to row, as a cell that is dragged down fills them: some of them may be longer than was meant.`;
  }
  const said = values.filter((value) => !isNothing(value));
  if (longest === null || said.length * 2 <= values.length) return null;
  const unit = statedUnit(heading) ?? MONTHS;
  const months = values.map((value) => ownMonths(value, unit));
  if (months.some((one) => one !== null && one < longest)) return null;
  if (months.every((one) => one === null)) {
    const example = quoted(textOf(said[0] ?? null));
    return `No interval under ${quoted(heading)} can be read, such as ${example}: it is no whole number.`;
  }
  const idle = said.filter((value) => ownMonths(value, unit) !== longest);
  if (idle.length * 2 <= said.length) return null;
  return `No interval under ${quoted(heading)} is shorter than our longest, ${counted(longest, "month")}, such as ${quoted(textOf(idle[0] ?? null))}: ours alone count, and others may have been meant, as where weeks are taken for months.`;
}

/** The step by which so many numbers below each other change; null where they do not. */
export function steadyStep(values: readonly CellValue[]): number | null {
  let [last, times] = [0, 0];
  for (const [at, value] of values.entries()) {
    const before = values[at - 1];
    const step = typeof value === "number" && typeof before === "number" ? value - before : 0;
    times = step !== 0 && step === last ? times + 1 : 1;
    last = step;
    if (step !== 0 && times >= RUN - 1) return step;
  }
  return null;
}
