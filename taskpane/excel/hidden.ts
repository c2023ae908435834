import type { Looked } from "./area.ts";

/** Pieces that a half-hidden stretch is cut into. */
const PIECES = 16;

/** Stretches asked for in one request, which stays below 2 MB with them. */
const MOST_ASKED = 3000;

interface Stretch {
  readonly at: number;
  readonly way: "rows" | "columns";
  readonly first: number;
  readonly last: number;
}

/** Hidden rows and columns of sheets. Excel says of a stretch: all, none or some; some is cut and asked again. */
export async function hiddenIn(
  context: Excel.RequestContext,
  sheets: readonly Looked[],
): Promise<{ readonly rows: Set<number>; readonly columns: Set<number> }[]> {
  const found = sheets.map(() => ({ rows: new Set<number>(), columns: new Set<number>() }));
  let open = sheets.flatMap(({ used }, at): Stretch[] =>
    used === null
      ? []
      : [
          { at, way: "rows", first: used.firstRow, last: used.lastRow },
          { at, way: "columns", first: used.firstColumn, last: used.lastColumn },
        ],
  );
  while (open.length > 0) {
    const now = open.slice(0, MOST_ASKED);
    const later = open.slice(MOST_ASKED);
    const asked = now.map((stretch) => ({ stretch, range: ask(sheets, stretch) }));
    await context.sync();
    const cuts = asked.flatMap(({ stretch, range }) => {
      // The typings leave out that Excel answers null for a stretch of both.
      const hidden = (stretch.way === "rows" ? range.rowHidden : range.columnHidden) as
        boolean | null;
      if (hidden === null) return cut(stretch);
      if (hidden)
        for (let at = stretch.first; at <= stretch.last; at += 1)
          found[stretch.at]?.[stretch.way].add(at);
      return [];
    });
    open = [...cuts, ...later];
  }
  return found;
}

function ask(sheets: readonly Looked[], { at, way, first, last }: Stretch): Excel.Range {
  const sheet = sheets[at]?.sheet;
  if (sheet === undefined) throw new Error("no such sheet");
  const length = last - first + 1;
  return way === "rows"
    ? sheet.getRangeByIndexes(first, 0, length, 1).load("rowHidden")
    : sheet.getRangeByIndexes(0, first, 1, length).load("columnHidden");
}

function cut(stretch: Stretch): Stretch[] {
  const { first, last } = stretch;
  const step = Math.max(1, Math.ceil((last - first + 1) / PIECES));
  const parts: Stretch[] = [];
  for (let at = first; at <= last; at += step) {
    parts.push({ ...stretch, first: at, last: Math.min(last, at + step - 1) });
  }
  return parts;
}
