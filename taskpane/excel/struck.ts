import { type Area, cellKey } from "../../src/book/workbook/snapshot.ts";
import { type Looked, rangeAt } from "./area.ts";

/** Pieces that a column struck in places is cut into. */
const PIECES = 16;

/** Areas asked for in one request, which stays below 2 MB with them. */
const MOST_ASKED = 3000;

interface Piece {
  readonly at: number;
  readonly area: Area;
}

/**
 * Cells of each sheet whose text is struck through, in whole or in part, by cellKey. Excel says of an area:
 * all, none or some; some is cut and asked again, down to the cell that is struck in part.
 */
export async function struckIn(
  context: Excel.RequestContext,
  sheets: readonly Looked[],
): Promise<Set<number>[]> {
  const found = sheets.map(() => new Set<number>());
  let open = sheets.flatMap(({ used }, at): Piece[] => (used === null ? [] : [{ at, area: used }]));
  while (open.length > 0) {
    const now = open.slice(0, MOST_ASKED);
    const later = open.slice(MOST_ASKED);
    const asked = now.map((piece) => ({ piece, font: fontOf(sheets, piece) }));
    await context.sync();
    const cuts = asked.flatMap(({ piece, font }) => {
      // The typings leave out that Excel answers null for an area of both.
      const struck = font.strikethrough as boolean | null;
      if (struck === false) return [];
      const pieces = struck === null ? cut(piece) : [];
      if (pieces.length === 0) addAll(found[piece.at], piece.area);
      return pieces;
    });
    open = [...cuts, ...later];
  }
  return found;
}

function fontOf(sheets: readonly Looked[], { at, area }: Piece): Excel.RangeFont {
  const sheet = sheets[at]?.sheet;
  if (sheet === undefined) throw new Error("no such sheet");
  return rangeAt(sheet, area).format.font.load("strikethrough");
}

/** The columns of an area, or pieces of one column; none of a single cell. */
function cut({ at, area }: Piece): Piece[] {
  const { firstRow, lastRow, firstColumn, lastColumn } = area;
  const pieces: Piece[] = [];
  if (firstColumn < lastColumn) {
    for (let column = firstColumn; column <= lastColumn; column += 1)
      pieces.push({ at, area: { ...area, firstColumn: column, lastColumn: column } });
    return pieces;
  }
  if (firstRow === lastRow) return [];
  const step = Math.ceil((lastRow - firstRow + 1) / PIECES);
  for (let row = firstRow; row <= lastRow; row += step) {
    const last = Math.min(lastRow, row + step - 1);
    pieces.push({ at, area: { ...area, firstRow: row, lastRow: last } });
  }
  return pieces;
}

function addAll(found: Set<number> | undefined, area: Area): void {
  for (let row = area.firstRow; row <= area.lastRow; row += 1) {
    for (let column = area.firstColumn; column <= area.lastColumn; column += 1)
      found?.add(cellKey(row, column));
  }
}
