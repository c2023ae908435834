import { isBlank, isBlankRow, textOf } from "../../workbook/cells.ts";
import type { CellValue, Sheet } from "../../workbook/snapshot.ts";

/** Who signed a list, and which page of it a sheet of paper is; common practice, no source. */
const SIGNED =
  /:\s*$|^(?:sign(?:ed|ature|[ée])?|date|datum|fecha|respons\w+|\w+ed (?:by|on)|unterschrift|gepr[üu]ft|erstellt|vu par|vis[ae]|impr\w+|firma\w*|assina\w+|handtekening|podpis|wydruk)(?![\p{L}\d])/iu;
const PAGE =
  /^(?:page|seite|pagina|p[áa]gina|strona|blad|blatt)\s*\d+(?:\s*(?:of|von|sur|de|di|van|z|\/)\s*\d+)?$/iu;

/**
 * Whether a row below the devices is of the paper: a signature, whoever signs in the rows right below it, or the
 * number of a page. A signature stands apart: a blank row is before it.
 */
export function isFootRow(sheet: Sheet, row: number, device: number): boolean {
  const cells = sheet.values[row] ?? [];
  const id = textOf(cells[device] ?? null);
  if (PAGE.test(id) || PAGE.test(loneText(cells))) return true;
  for (let at = row; at > Math.max(0, row - MOST_LINES); at -= 1) {
    const line = sheet.values[at] ?? [];
    if (isBlankRow(line) || filled(line) > MOST_SIGNED) return false;
    const isSigned = SIGNED.test(textOf(line[device] ?? null));
    if (isSigned && standsApart(sheet.values[at - 1] ?? [])) return true;
  }
  return false;
}

/** A blank row, or a line of text, is between the devices and what follows. */
function standsApart(before: readonly CellValue[]): boolean {
  return isBlankRow(before) || /\s/u.test(loneText(before));
}

/** A name, its date and its place; who signs, line by line. */
const MOST_SIGNED = 3;
const MOST_LINES = 6;

function filled(cells: readonly CellValue[]): number {
  return cells.reduce<number>((count, cell) => count + (isBlank(cell) ? 0 : 1), 0);
}

function loneText(cells: readonly CellValue[]): string {
  return filled(cells) === 1 ? textOf(cells.find((cell) => !isBlank(cell)) ?? null) : "";
}
