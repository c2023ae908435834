import { monthsIn } from "../../headings/months.ts";
import { headingsAt } from "../../headings/headings.ts";
import { identifierAt, isBlank, keyOf, type Page } from "../../workbook/cells.ts";
import { usesOfMonths } from "./uses-of-months.ts";
import { type CountSheet, readingsOf } from "./count-sheets.ts";

/** The best reading of a sheet as counts, block by block; none when it is none. `sure` when a person chose it. */
export function countSheetsIn(
  page: Page,
  isDevice: (key: string) => boolean,
  sure: boolean,
): CountSheet[] {
  const readings = readingsOf(page, isDevice, sure);
  if (readings === null) return [];
  const { best, first } = readings;
  // Of blocks below each other the first is the one to begin with, whichever has more months.
  const blocks = blocksOf(first, isDevice);
  const isBelow = blocks.slice(1).some(({ heading }) => heading.last === best.heading.last);
  return isBelow ? blocks : blocksOf(best, isDevice);
}

/** Months in the same columns that make a row below the devices a heading of its own. */
const ENOUGH = 2;

/**
 * The blocks of a sheet of counts that stand below each other under months of their own, as a year or a ward each;
 * the sheet alone where there is one. A block's year may stand in its own title.
 */
function blocksOf(sheet: CountSheet, isDevice: (key: string) => boolean): CountSheet[] {
  if (sheet.shape === "long") return [sheet];
  const { page, heading, lastRow, device, months } = sheet;
  const { values } = page.sheet;
  let above = heading.last + 1;
  for (let row = above; row <= lastRow; row += 1) {
    // A row of a known device is no heading, and most rows are one.
    if (isDevice(keyOf(identifierAt(page, row, device)))) {
      above = row + 1;
      continue;
    }
    if (isBlank(values[row]?.[months[0]?.column ?? 0] ?? null)) continue;
    const [alone] = headingsAt(page.sheet, row);
    if (alone === undefined) continue;
    const below = { ...alone, above };
    const own = monthsIn(page, below);
    const isShared = (column: number): boolean => months.some((one) => one.column === column);
    if (own.filter(({ column }) => isShared(column)).length < ENOUGH) continue;
    const next = { ...sheet, ...usesOfMonths({ page, heading: below }, device, own) };
    return [{ ...sheet, lastRow: above - 1 }, ...blocksOf(next, isDevice)];
  }
  return [sheet];
}
