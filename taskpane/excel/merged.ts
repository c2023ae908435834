import { type Area, areaText } from "../../src/book/workbook/snapshot.ts";
import { areaOf, type Looked, rangeAt } from "./area.ts";
import { isExcelFault } from "./faults.ts";

/** Merged areas of which Excel answers for one range at most. */
const MOST_AREAS = 512;

const LOADED =
  "areas/items/rowIndex,areas/items/columnIndex,areas/items/rowCount,areas/items/columnCount";

interface Piece {
  readonly at: number;
  readonly area: Area;
}

/**
 * Merged areas of each sheet. Excel fails where a range has more than 512, so it is asked in pieces of so
 * many rows, and a piece that fails is cut in half and asked again.
 */
export async function mergedIn(
  context: Excel.RequestContext,
  sheets: readonly Looked[],
): Promise<Area[][]> {
  const found = sheets.map(() => new Map<string, Area>());
  const pieces = sheets.flatMap(({ used }, at) =>
    used === null ? [] : cut(used, MOST_AREAS).map((area) => ({ at, area })),
  );
  const ask = async (asked: readonly Piece[]): Promise<void> => {
    if (asked.length === 0) return;
    const answers = asked.map(({ at, area }) => {
      const sheet = sheets[at]?.sheet;
      if (sheet === undefined) throw new Error("no such sheet");
      return { at, merged: rangeAt(sheet, area).getMergedAreasOrNullObject().load(LOADED) };
    });
    try {
      await context.sync();
    } catch (error) {
      const halves = halved(asked);
      // Nothing left to halve: it failed for another reason.
      if (!isExcelFault(error) || halves === null) throw error;
      for (const half of halves) await ask(half);
      return;
    }
    for (const { at, merged } of answers) {
      if (merged.isNullObject) continue;
      // An area across a cut is in both pieces.
      for (const area of merged.areas.items.map(areaOf)) found[at]?.set(areaText(area), area);
    }
  };
  await ask(pieces);
  return found.map((areas) => [...areas.values()]);
}

/** The pieces in two halves, a single one cut between its rows; null for one row. */
function halved(pieces: readonly Piece[]): (readonly Piece[])[] | null {
  const [only] = pieces;
  if (only === undefined) return null;
  if (pieces.length > 1) {
    const half = Math.ceil(pieces.length / 2);
    return [pieces.slice(0, half), pieces.slice(half)];
  }
  const rows = only.area.lastRow - only.area.firstRow + 1;
  if (rows === 1) return null;
  return cut(only.area, Math.ceil(rows / 2)).map((area) => [{ ...only, area }]);
}

function cut(area: Area, rows: number): Area[] {
  const pieces: Area[] = [];
  for (let row = area.firstRow; row <= area.lastRow; row += rows) {
    pieces.push({ ...area, firstRow: row, lastRow: Math.min(area.lastRow, row + rows - 1) });
  }
  return pieces;
}
