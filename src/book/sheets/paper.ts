import type { PrintSetup } from "../workbook/plan.ts";

/**
 * Characters of the usual font (11 points, a column of one character 1.85 mm wide) that A4 and Letter both hold beside
 * margins of 10 mm: upright at about 10 points or more, on its side at 8 points or more. Source of the sheets' sizes: ISO 216 and
 * ANSI/ASME Y14.1; of the column's width: ECMA-376 part 1, 18.3.1.13.
 */
const UPRIGHT = 114;
const SIDEWAYS = 190;

/** Sides in millimetres, the narrow one first. */
const PAPERS = [
  [210, 297],
  [215.9, 279.4],
] as const;
/** Millimetres of a column of one character, and of a point. */
const [CHARACTER, POINT] = [1.852, 0.3528];
/** Millimetres that the margins take of the width and of the height. */
const [ASIDE, ABOVE_AND_BELOW] = [20.3, 27.9];

interface OnPage {
  /** How much smaller than on the screen it is printed. */
  readonly scale: number;
  /** How many points of its rows a page then holds. */
  readonly points: number;
}

/** How a sheet so many characters wide is printed on each paper. */
function onPages(characters: number): OnPage[] {
  return PAPERS.map(([narrow, wide]) => {
    const [across, down] = characters <= UPRIGHT ? [narrow, wide] : [wide, narrow];
    const scale = Math.min(1, (across - ASIDE) / (characters * CHARACTER));
    return { scale, points: (down - ABOVE_AND_BELOW) / scale / POINT };
  });
}

/** How it is printed on the paper that holds less: nobody knows which one is in the printer. */
export function onPage(characters: number): OnPage {
  const pages = onPages(characters);
  return {
    scale: Math.min(...pages.map(({ scale }) => scale)),
    points: Math.min(...pages.map(({ points }) => points)),
  };
}

/** How a sheet so many characters wide goes on paper, with those rows and columns on each page. */
export function onPaper(
  sheet: string,
  characters: number,
  {
    titleRows,
    titleColumns = 1,
    ...more
  }: Pick<PrintSetup, "titleRows" | "footer" | "pagesTall"> & {
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
    ...more,
  };
}
