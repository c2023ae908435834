import { deviceKey } from "../../records/device-key.ts";
import { counted, listed, notice } from "../../records/problems.ts";
import type { Problem, Register } from "../../records/records.ts";
import { identifierAt, quoted } from "../../workbook/cells.ts";
import { columnLetters } from "../../workbook/snapshot.ts";
import type { Matching } from "./register-sheet.ts";

/**
 * Tables that stand beside the register under the same headings: only one of them is read, and its devices are not
 * the others'.
 */
export function besideTables({ page, heading, matches }: Matching, { rows }: Register): Problem[] {
  const device = matches.find(({ field }) => field === "device");
  if (device === undefined) return [];
  const title = device.heading.toLowerCase();
  const isBeside = (text: string, column: number): boolean =>
    column !== device.column && text.toLowerCase() === title;
  if (!heading.texts.some(isBeside)) return [];
  const idsIn = (column: number): string[] =>
    rows.map((row) => identifierAt(page, row, column)).filter((id) => id !== "");
  const own = new Set(idsIn(device.column).map(deviceKey));
  return heading.texts.flatMap((text, column): Problem[] => {
    if (!isBeside(text, column)) return [];
    const others = [...new Set(idsIn(column))].filter((id) => !own.has(deviceKey(id)));
    if (others.length === 0) return [];
    const { name } = page.sheet;
    const many = counted(others.length, "device");
    return [
      notice(
        "register not read",
        { sheet: name, row: null, column, heading: text },
        `Another table stands beside the register on ${name}, from column ${columnLetters(column)} ${quoted(text)}: its ${many} (${listed(others)}) are in none of the figures.`,
        "Move it below the first, or to a sheet of its own.",
      ),
    ];
  });
}
