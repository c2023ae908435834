import { isoText } from "../../core/day.ts";
import { type Content, ORDER_COLUMNS } from "./columns.ts";
import type { Purchase } from "./purchase.ts";
import { plainText } from "./text.ts";

/** What stands between two cells, by name. */
export const SEPARATORS = { comma: ",", semicolon: ";", tab: "\t" } as const;

export type Separator = keyof typeof SEPARATORS;

/** How a CSV is written. */
export interface CsvForm {
  readonly separator: Separator;
  /** Begin with a byte order mark, without which some programs do not see that it is UTF-8. */
  readonly mark: boolean;
}

/** An order as CSV: one heading line, one line a line, nothing else. */
export function orderCsv(purchase: Purchase, { separator, mark }: CsvForm): string {
  // Where lists are separated by semicolons, a point is no decimal mark: 12.5 would become a date.
  const point = separator === "semicolon" ? "," : ".";
  const lines = [
    ORDER_COLUMNS.map(({ heading }) => quoted(heading)),
    ...purchase.lines.map((line) =>
      ORDER_COLUMNS.map(({ content }) => written(content(line, purchase), point)),
    ),
  ];
  const text = lines.map((cells) => `${cells.join(SEPARATORS[separator])}\r\n`).join("");
  return mark ? `\ufeff${text}` : text;
}

function written(content: Content, point: string): string {
  switch (content.kind) {
    case "text":
      return quoted(harmless(plainText(content.text)));
    case "date":
      return isoText(content.day);
    case "whole":
      return content.number === null ? "" : String(content.number);
    case "money":
      return content.number === null ? "" : quoted(content.number.toFixed(2).replace(".", point));
  }
}

/**
 * Spreadsheet programs run a cell that begins like a formula; an apostrophe in front makes it text.
 * Leading space does not stop all of them, nor do the wide forms of the signs.
 * Source: CWE-1236, improper neutralization of formula elements in a CSV file.
 */
function harmless(text: string): string {
  return /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\n]/.test(text) ? `'${text}` : text;
}

/** RFC 4180; whatever may separate cells anywhere is quoted, so that a wrong guess does no harm. */
function quoted(text: string): string {
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
