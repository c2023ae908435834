import { cellKey, columnOf, type Sheet, sheetNamed, type Snapshot } from "./snapshot.ts";

/** Functions that give another answer every day, or at every calculation, without anybody typing. */
const VOLATILE = /\b(?:TODAY|NOW|RAND|RANDBETWEEN|RANDARRAY)\s*\(/i;
const TEXT = /"[^"]*"/g;
const REFERENCE =
  /(?:(?:'((?:[^']|'')+)'|([\p{L}\p{N}_.]+))!)?\$?([A-Z]{1,3})\$?(\d{1,7})(?![\p{L}\p{N}_(:])/giu;
/** Cells a date is followed through; further away nobody keeps a date of a replacement. */
const MOST_CELLS = 50;

/** Whether a cell's formula, or one it refers to, gives another answer by itself. */
export function moves(snapshot: Snapshot, sheet: Sheet, key: number): boolean {
  const seen = new Set<string>();
  const waiting: { readonly sheet: Sheet; readonly key: number }[] = [{ sheet, key }];
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const place = `${next.key} ${next.sheet.name}`;
    const formula = next.sheet.formulas.get(next.key)?.replaceAll(TEXT, "");
    if (formula === undefined || seen.has(place)) continue;
    if (VOLATILE.test(formula)) return true;
    seen.add(place);
    // A chain this long is nothing a person typed.
    if (seen.size > MOST_CELLS) return true;
    for (const [, quoted, plain, letters = "", digits = ""] of formula.matchAll(REFERENCE)) {
      const name = quoted?.replaceAll("''", "'") ?? plain;
      const other = name === undefined ? next.sheet : sheetNamed(snapshot, name);
      if (other === null) continue;
      waiting.push({ sheet: other, key: cellKey(Number(digits) - 1, columnOf(letters)) });
    }
  }
  return false;
}

/** The same, asked of many cells of a book. */
export function movesIn(snapshot: Snapshot): (sheet: Sheet, key: number) => boolean {
  return (sheet, key) => moves(snapshot, sheet, key);
}
