import type { PrintSetup } from "../workbook/plan.ts";

/**
 * Characters of the usual font (11 points, a column of one character 1.85 mm wide) that A4 and Letter both hold beside
 * margins of 10 mm: upright at about 10 points or more, on its side at 8 points or more. Source of the sheets' sizes: ISO 216 and
 * ANSI/ASME Y14.1; of the column's width: ECMA-376 part 1, 18.3.1.13.
 */
const UPRIGHT = 114;
const SIDEWAYS = 190;

/** How a sheet so many characters wide goes on paper, with those rows and columns on each page. */
export function onPaper(
  sheet: string,
  characters: number,
  {
    titleRows,
    titleColumns = 1,
    footer,
  }: Pick<PrintSetup, "titleRows" | "footer"> & {
    readonly titleColumns?: number;
  },
): PrintSetup {
  const wide = Math.ceil(characters / SIDEWAYS);
  return {
    kind: "printSetup",
    sheet,
    titleRows,
    titleColumns: wide > 1 ? titleColumns : 0,
    orientation: characters <= UPRIGHT ? "portrait" : "landscape",
    pagesWide: wide,
    footer,
  };
}
