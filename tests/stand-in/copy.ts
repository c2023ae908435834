import { type Area, cellKey, columnLetters, columnOf } from "../../src/book/snapshot.ts";
import { type Block, typeBlock } from "./block.ts";
import { Fault } from "./thing.ts";

/** Copies one cell's formula over a block, references moved along as Excel moves them. */
export function copyFormula({ book, sheet, area }: Block, from: Area): void {
  const formula = sheet.cells.get(cellKey(from.firstRow, from.firstColumn))?.formula ?? null;
  if (formula === null || from.firstRow !== from.lastRow || from.firstColumn !== from.lastColumn) {
    throw new Fault("InvalidArgument", "one cell with a formula must be given");
  }
  const lines: string[][] = [];
  for (let row = area.firstRow; row <= area.lastRow; row += 1) {
    const line: string[] = [];
    for (let column = area.firstColumn; column <= area.lastColumn; column += 1) {
      line.push(`=${moved(formula, row - from.firstRow, column - from.firstColumn)}`);
    }
    lines.push(line);
  }
  typeBlock({ book, sheet, area }, lines);
}

/** Texts and quoted sheet names, which stay, or a reference with its parts. */
const PART =
  /"[^"]*"|'[^']*'|(?<![A-Za-z0-9_.])(\$?)([A-Z]{1,3})(\$?)([1-9][0-9]{0,6})(?![A-Za-z0-9_.(])/g;

function moved(formula: string, down: number, right: number): string {
  return formula.replace(
    PART,
    (all: string, fixed?: string, letters?: string, held?: string, row?: string) => {
      if (letters === undefined || row === undefined) return all;
      const column = fixed === "$" ? letters : columnLetters(columnOf(letters) + right);
      return `${fixed ?? ""}${column}${held ?? ""}${held === "$" ? row : Number(row) + down}`;
    },
  );
}
