import { isBlank, textOf } from "../workbook/cells.ts";
import type { CellValue } from "../workbook/snapshot.ts";

/** "dd/mm/yyyy", "TT.MM.JJJJ", "jj/mm/aaaa", "rrrr-mm-dd": each letter said again. */
const FORMAT = /^\W*([djtgrmya])\1{0,3}(?:[./\- ]+([djtgrmya])\2{0,3}){1,2}\W*$/iu;
/** "(text)", "[ward]". */
const BRACKETS = /^[([].*[)\]]$/u;
/** A time: "every 3 months", "2-monthly", "alle 8 Wochen". */
const TIME = /^\D{0,14}\d{1,2}[\s-]*\p{L}{3,}\W*$/u;

/**
 * Whether a row under headings says how to fill the columns, and is no device: how dates are written or after which
 * time a part goes, with nothing in the first column, or the numbers or letters of all columns, as printed forms have, or all of it in brackets.
 */
export function isLegend(
  above: readonly CellValue[] | undefined,
  cells: readonly CellValue[] | undefined,
): boolean {
  if (above === undefined || cells === undefined) return false;
  const all = cells.filter((cell) => !isBlank(cell));
  if (all.length > 2 && all.every((cell) => BRACKETS.test(textOf(cell).trim()))) return true;
  const columns = above.flatMap((value, column) => (isBlank(value) ? [] : [column]));
  const texts = columns.map((column) => textOf(cells[column] ?? null).trim());
  const filled = texts.filter((text) => text !== "");
  if (filled.length === 0 || filled.length < all.length) return false;
  if (columns.length > 2 && counts(texts)) return true;
  return texts[0] === "" && filled.every((text) => FORMAT.test(text) || TIME.test(text));
}

/** "1", "2", "3" … or "a", "b", "c" …, one in each column. */
function counts(texts: readonly string[]): boolean {
  const first = "1aA".indexOf(texts[0] ?? "");
  if (texts[0] === "" || first < 0) return false;
  const start = texts[0] ?? "";
  return texts.every((text, at) =>
    first === 0
      ? text === String(at + 1)
      : text === String.fromCodePoint((start.codePointAt(0) ?? 0) + at),
  );
}
