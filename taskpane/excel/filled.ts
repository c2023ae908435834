import type { Area } from "../../src/book/workbook/snapshot.ts";
import { areaOf, type Looked, rangeAt } from "./area.ts";

/** Cells above which a sheet is looked at in pieces: a stray entry far away makes it seem vast. */
const VAST = 1_000_000;
const PIECES = 16;

/** The blocks of each sheet that hold something; the empty stretches of a vast one are left out. */
export async function filledAreas(
  context: Excel.RequestContext,
  sheets: readonly Looked[],
): Promise<Area[][]> {
  const found = sheets.map((): Area[] => []);
  let open = sheets.flatMap(({ used }, at) => (used === null ? [] : [{ at, area: used }]));
  while (open.length > 0) {
    const vast = open.filter(({ area }) => cellsOf(area) > VAST);
    for (const one of open) if (!vast.includes(one)) found[one.at]?.push(one.area);
    const asked = vast.flatMap(({ at, area }) =>
      cut(area).flatMap((piece) => {
        const sheet = sheets[at]?.sheet;
        return sheet === undefined ? [] : [{ at, range: usedIn(sheet, piece) }];
      }),
    );
    if (asked.length > 0) await context.sync();
    open = asked.flatMap(({ at, range }) =>
      range.isNullObject ? [] : [{ at, area: areaOf(range) }],
    );
  }
  return found;
}

function usedIn(sheet: Excel.Worksheet, area: Area): Excel.Range {
  const used = rangeAt(sheet, area).getUsedRangeOrNullObject(true);
  return used.load("rowIndex,columnIndex,rowCount,columnCount");
}

function cellsOf({ firstRow, lastRow, firstColumn, lastColumn }: Area): number {
  return (lastRow - firstRow + 1) * (lastColumn - firstColumn + 1);
}

/** A vast area has many rows, so it is always cut between rows. */
function cut(area: Area): Area[] {
  const step = Math.max(1, Math.ceil((area.lastRow - area.firstRow + 1) / PIECES));
  const pieces: Area[] = [];
  for (let row = area.firstRow; row <= area.lastRow; row += step) {
    pieces.push({ ...area, firstRow: row, lastRow: Math.min(area.lastRow, row + step - 1) });
  }
  return pieces;
}
