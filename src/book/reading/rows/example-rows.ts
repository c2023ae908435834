import type { CellValue } from "../../workbook/snapshot.ts";
import { isBlank, textOf } from "../../workbook/cells.ts";

/** "E.g.", "z. B.", "p. ej.", or the word itself, alone or with what it is an example of behind it. */
const EXAMPLE =
  /^\W*(?:(?:e\. ?g|z\. ?b|p\. ?(?:ej|ex)|(?:ad )?es|ex|bi?j?v|np)\.(?=\W|$)|(?:for |zum |par |por |per |na )?(?:example|beispiel|exemple|ejemplo|exemplo|esempio|(?:bij)?voorbeeld|przyk[łl]ad)(?: row)?\W*(?:$|[:(–-]\s))/iu;

/** Words in a further cell that say it of the whole row. */
const OF_ROW =
  /^\W*(?:(?:example|sample|dummy) (?:row|line|entry)|beispielzeile|ligne d['’]exemple|fila de ejemplo|linha de exemplo|riga d['’]esempio|voorbeeldr(?:ij|egel)|przyk[łl]adowy wiersz)(?!\p{L})/iu;

/** Whether a row above all devices shows how to fill the others: its device, what it begins with or a note says so. */
export function isExample(cells: readonly CellValue[], device: CellValue): boolean {
  const first = cells.find((cell) => !isBlank(cell)) ?? null;
  return (
    [first, device].some((cell) => EXAMPLE.test(textOf(cell))) ||
    cells.some((cell) => OF_ROW.test(textOf(cell)))
  );
}
