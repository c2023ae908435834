import { type Area, cellKey, columnLetters, columnOf } from "../../src/book/workbook/snapshot.ts";
import { addressOf, type Block, calculate, writeBlock } from "./block.ts";
import { Fault, textOf } from "./thing.ts";

/** Copies one cell's formula over a block, references moved along as Excel moves them; rows a filter hides are left out. */
export function copyFormula(block: Block, from: Area): void {
  const { book, sheet, area } = block;
  const source = sheet.cells.get(cellKey(from.firstRow, from.firstColumn));
  const formula = source?.formula ?? null;
  if (formula === null || from.firstRow !== from.lastRow || from.firstColumn !== from.lastColumn) {
    throw new Fault("InvalidArgument", "one cell with a formula must be given");
  }
  const filtered = sheet.filter?.active === true || sheet.tables.some((table) => table.filtered);
  const isLeftOut = (row: number): boolean => filtered && sheet.hiddenRows.has(row);
  const down = Array.from({ length: area.lastRow - area.firstRow + 1 }, (_, row) =>
    Array.from({ length: area.lastColumn - area.firstColumn + 1 }, (__, column) => {
      const below = row + area.firstRow - from.firstRow;
      if (isLeftOut(row + area.firstRow)) return null;
      return moved(formula, below, column + area.firstColumn - from.firstColumn);
    }),
  );
  writeBlock(block, down, (cell, text, key) => {
    cell.formula = textOf(text);
    cell.lost = undefined;
    cell.busyUntil = source?.busyUntil ?? 0;
    // Where nothing is calculated by itself a copy shows what its source shows until somebody asks.
    if (book.temper.isManual) cell.value = source?.value ?? null;
    else calculate(book, sheet, key, cell);
  });
  book.written.push(`copy ${addressOf(block)}`);
}

/** Texts and quoted sheet names, which stay, or a reference with its parts. */
const PART =
  /"[^"]*"|'[^']*'|(?<![A-Za-z0-9_.])(\$?)([A-Z]{1,3})(\$?)([1-9][0-9]{0,6})(?![A-Za-z0-9_.(])/g;

function moved(formula: string, down: number, right: number): string {
  return formula.replace(PART, (all: string, ...parts: readonly (string | undefined)[]) => {
    const [fixed = "", letters, held = "", row] = parts;
    if (letters === undefined || row === undefined) return all;
    const column = fixed === "" ? columnLetters(columnOf(letters) + right) : letters;
    return `${fixed}${column}${held}${held === "" ? Number(row) + down : row}`;
  });
}
