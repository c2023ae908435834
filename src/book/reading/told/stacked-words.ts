import type { HeadingRows } from "../../headings/headings.ts";
import { listed } from "../../records/problems.ts";
import {
  identifierAt,
  isBlank,
  isBlankRow,
  lastFilledRow,
  type Page,
} from "../../workbook/cells.ts";
import type { Words } from "./date-faults.ts";

/** Another table on the sheet of a register. */
export function stacked(page: Page, row: number, heading: HeadingRows): Words {
  return [
    `Another table stands on ${page.sheet.name}, with its headings in row ${row + 1}: its devices${namesBelow(page, row, heading)} are in none of the figures.`,
    "Move it to a sheet of its own, or under the same headings in the same columns.",
  ];
}

const NAMED = 6;

/** " (R1, R2)": what stands first in the rows below its headings, up to a blank row or the register. */
function namesBelow(page: Page, row: number, heading: HeadingRows): string {
  const first = page.sheet.values[row]?.findIndex((cell) => !isBlank(cell)) ?? 0;
  const names: string[] = [];
  for (let at = row + 1; at <= lastFilledRow(page.sheet) && at !== heading.first; at += 1) {
    const name = identifierAt(page, at, first);
    if (name === "" && isBlankRow(page.sheet.values[at])) break;
    if (name !== "") names.push(name);
  }
  return names.length === 0 ? "" : ` (${listed(names, NAMED)})`;
}
