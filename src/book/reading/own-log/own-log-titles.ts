import { saysPlanned } from "../../headings/planned.ts";
import { turnsWork } from "../../headings/work-beside.ts";
import { deviceKey } from "../../records/device-key.ts";
import { identifierAt, isBlank, textOf } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import type { LogSheet, LogWords } from "./own-log-sheet.ts";

/** Titles between the lines of a log; headings said again there are a title, too. */
interface Titles {
  readonly isTitle: (row: number) => boolean;
  /** What a row stands under that says its work was not done, such as "Planned"; "" under any other, and under none. */
  readonly turning: (row: number) => string;
}

/** The titles between the lines of a log. */
export function titlesIn(log: LogSheet, words: LogWords): Titles {
  const { page, first, last, device } = log;
  const turning = new Map<number, string>();
  const rows = new Set<number>();
  let title = "";
  for (let row = first; row <= last; row += 1) {
    const cells = page.sheet.values[row] ?? [];
    const texts = isWorkAlone(cells, log) ? null : titleCells(cells);
    const id = identifierAt(page, row, device);
    const isTitle =
      texts !== null && !words.isDevice(deviceKey(id)) && (texts.length === 1 || words.isPlace(id));
    if (isTitle) {
      rows.add(row);
      title = texts.find((text) => turnsWork(text, "") || saysPlanned(text)) ?? "";
    } else if (title !== "") turning.set(row, title);
  }
  return { isTitle: (row) => rows.has(row), turning: (row) => turning.get(row) ?? "" };
}

/** A text under the heading of the work alone goes on with the line above; a title begins on the left. */
function isWorkAlone(cells: readonly CellValue[], { work }: LogSheet): boolean {
  const [only, ...others] = [...cells.keys()].filter((column) => !isBlank(cells[column] ?? null));
  return only !== undefined && only > 0 && others.length === 0 && work.includes(only);
}

/** The texts of a row that holds nothing else; null where it holds a number or nothing. */
function titleCells(cells: LogSheet["page"]["sheet"]["values"][number]): string[] | null {
  const filled = cells.filter((cell) => !isBlank(cell));
  const isWords = filled.every((cell) => typeof cell === "string");
  return filled.length === 0 || !isWords ? null : filled.map(textOf);
}
