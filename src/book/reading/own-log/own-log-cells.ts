import { isBlank, identifierAt, isBlankRow, textOf } from "../../workbook/cells.ts";
import { isDitto } from "../rows/ditto-sites.ts";
import type { LogSheet, LogWords } from "./own-log-sheet.ts";

/** A row of a log that holds a line, and the one in which its device stands: a blank cell or a ditto mark is of the row above. */
export interface LineRow {
  readonly row: number;
  readonly deviceRow: number;
}

/** The rows of a log that hold a line. */
export function lineRows(
  { page, first, last, device, work }: LogSheet,
  isTitle: (row: number) => boolean,
): LineRow[] {
  const rows: LineRow[] = [];
  for (let row = first; row <= last; row += 1) {
    const cells = page.sheet.values[row] ?? [];
    const id = identifierAt(page, row, device);
    if (isTitle(row)) continue;
    if (id !== "" && !isDitto(id)) {
      rows.push({ row, deviceRow: row });
      continue;
    }
    const before = rows.at(-1);
    const follows = before?.row === row - 1 && !isBlankRow(cells);
    const says = id !== "" || work.some((column) => !isBlank(cells[column] ?? null));
    if (follows && says) rows.push({ row, deviceRow: before.deviceRow });
    else if (id !== "") rows.push({ row, deviceRow: row });
  }
  return rows;
}

/** What the cells of work say in a row, and the headings that say it of them. */
interface WorkCells {
  readonly said: readonly string[];
  readonly heading: string;
  /** Each cell says by its own heading what was done: no title of the sheet or of its days does. */
  readonly isOwn: boolean;
}

/**
 * Reads the cells of work. Where one column says that a part was replaced and another does not, as under "Changed" and
 * "Torn", a part alone in the other is said with its heading.
 */
export function workCells(log: LogSheet, words: LogWords): (row: number) => WorkCells {
  const { page, first, last, work, headingOf } = log;
  const isOpen = (text: string, heading = ""): boolean =>
    words.read(text, heading).says !== "clear";
  const saysDone = (text: string, heading: string): boolean =>
    text !== "" && isOpen(text) && !isOpen(text, heading);
  const done = work.filter((column) => {
    const texts = page.sheet.values
      .slice(first, last + 1)
      .map((cells) => textOf(cells[column] ?? null));
    return work.length > 1 && texts.some((text) => saysDone(text, headingOf(column)));
  });
  const others = done.length === 0 ? [] : work.filter((column) => !done.includes(column));
  return (row) => {
    const texts = work.map((column) => textOf(page.sheet.values[row]?.[column] ?? null));
    const headed = new Set(
      others.filter((column) => {
        const text = texts[work.indexOf(column)] ?? "";
        return text !== "" && isOpen(text);
      }),
    );
    const said = work.map((column, at) => {
      const text = texts[at] ?? "";
      return headed.has(column) ? `${headingOf(column)}: ${text}` : text;
    });
    const filled = work.filter((_, at) => texts[at] !== "");
    const plain = headed.size > 0 || filled.length === 0 ? filled : work;
    const headings = plain.filter((column) => !headed.has(column)).map(headingOf);
    return { said, heading: headings.join(" "), isOwn: headed.size > 0 && headings.length === 0 };
  };
}
