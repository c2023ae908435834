import { isoText } from "../../../core/day.ts";
import { allLastColumns } from "../../records/positions.ts";
import { fault, listed } from "../../records/problems.ts";
import type { Ours, Problem } from "../../records/records.ts";
import { quoted, trueDate } from "../../workbook/cells.ts";
import { columnLetters } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";

/** Fewer dates say nothing about a column. */
const FEWEST = 3;

/**
 * Columns of dates under no heading, or one that shows an error, in a register without dates of some part: they may be
 * its last replacements, and the part is in no list.
 */
export function unheadedDates(
  { register, page }: Found,
  named: readonly Named[],
  { ours: { parts, jobs }, told }: { readonly ours: Ours; readonly told: ReadonlySet<number> },
): Problem[] {
  const without = parts.filter(
    (part) =>
      allLastColumns(register, part).length === 0 && jobs.every((job) => job.part !== part.code),
  );
  const [first] = without;
  if (first === undefined) return [];
  const used = new Set([...told, ...register.matches.map(({ column }) => column)]);
  const rows = named.filter(({ retired }) => !retired).map(({ row }) => row);
  const widths = rows.map((row) => page.sheet.values[row]?.length ?? 0);
  const width = widths.reduce((most, one) => Math.max(most, one), 0);
  return Array.from({ length: width }, (_, column) => column).flatMap((column): Problem[] => {
    const heading = register.headings[column] ?? "";
    if (used.has(column) || heading !== "") return [];
    const dates = rows.flatMap((row) => trueDate(page, row, column) ?? []);
    const [example] = dates;
    if (example === undefined || dates.length < FEWEST || dates.length * 2 <= rows.length)
      return [];
    const names = listed(without.map(({ name }) => name));
    const cause = `Nothing is read from column ${columnLetters(column)}, which has no heading and holds dates such as ${isoText(example)}, and no column says when ${names} ${without.length === 1 ? "was" : "were"} last done.`;
    const title = `${first.name} ${first.task ? "done" : "replaced"}`;
    const fix = `Head it with what it holds, such as ${quoted(title)}.`;
    const place = { sheet: page.sheet.name, row: null, column, heading };
    return [fault("unused column", place, cause, fix)];
  });
}
