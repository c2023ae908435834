import { isBlank } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";

type Cells = readonly CellValue[];

/** Rows at the end of a list by which columns stick out, and how many others there must be. */
const MOST = 3;
const OTHERS = 3;

/**
 * Columns that were moved up or down beside the others: they alone are filled in the last rows of a list and blank in as
 * many first ones, or the other way round. What stands in them is another row's.
 */
export function movedColumns(lines: readonly Cells[]): readonly number[] {
  const down = sticking(lines);
  return down.length > 0 ? down : sticking([...lines].reverse());
}

function sticking(lines: readonly Cells[]): readonly number[] {
  const out = filled(lines.at(-1));
  const isOut = (cells: Cells | undefined): boolean =>
    filled(cells).every((at) => out.includes(at));
  let count = 0;
  while (count <= MOST && isOut(lines.at(-1 - count))) count += 1;
  const begin = lines.slice(0, count);
  const isMoved =
    count <= MOST &&
    lines.length > 2 * count + OTHERS &&
    begin.every((cells) => !isOut(cells) && out.every((at) => isBlank(cells[at] ?? null))) &&
    [lines[count], lines.at(-1 - count)].every((cells) =>
      out.every((at) => !isBlank(cells?.[at] ?? null)),
    );
  return isMoved ? out : [];
}

function filled(cells: Cells = []): number[] {
  return cells.flatMap((value, at) => (isBlank(value) ? [] : at));
}
