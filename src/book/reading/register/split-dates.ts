import { isLastDone } from "../../records/positions.ts";
import { fault, listed } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { remembering } from "../../records/remembering.ts";
import { quoted, trueDate } from "../../workbook/cells.ts";
import { address, columnLetters } from "../../workbook/snapshot.ts";
import type { Found } from "./register.ts";

type Piece = "day" | "month" | "year";

/** Dates of parts that are split over three columns, day, month and year in whatever order: no one of them is a date. */
export function splitDates({ page, register }: Found): Problem[] {
  const { sheet } = page;
  const { rows } = register;
  const pieceIn = remembering((column: number): ReadonlySet<Piece> => {
    const left = new Set<Piece>();
    for (const row of rows) {
      const cell = sheet.values[row]?.[column] ?? null;
      if (cell === null) continue;
      if (left.size === 0) for (const { piece } of RANGES) left.add(piece);
      for (const { piece, low, high } of RANGES) {
        const isWithin = Number.isInteger(cell) && Number(cell) >= low && Number(cell) <= high;
        if (!isWithin) left.delete(piece);
      }
      if (left.size === 0) return left;
    }
    return rows.every((row) => trueDate(page, row, column) === null) ? left : new Set();
  });
  return register.matches.flatMap(({ field, column, heading }): Problem[] => {
    if (!isLastDone(field)) return [];
    const order = ORDERS.find((pieces) =>
      pieces.every((piece, at) => pieceIn(column + at).has(piece)),
    );
    if (order === undefined) return [];
    const cell = (piece: Piece): string => address(rows[0] ?? 0, column + order.indexOf(piece));
    const columns = order.map((_, at) => columnLetters(column + at));
    return [
      fault(
        "unclear column",
        { sheet: sheet.name, row: null, column, heading },
        `The dates under ${quoted(heading)} are split over the columns ${listed(columns)}, ${listed(order)}: none of them is a date.`,
        `Put the dates into a column of their own, such as with =DATE(${cell("year")},${cell("month")},${cell("day")}), head it as the part's last replacement, and let the three keep no such heading.`,
      ),
    ];
  });
}

const RANGES: readonly { readonly piece: Piece; readonly low: number; readonly high: number }[] = [
  { piece: "day", low: 1, high: 31 },
  { piece: "month", low: 1, high: 12 },
  { piece: "year", low: 1990, high: 2100 },
];

const ORDERS: readonly (readonly Piece[])[] = [
  ["day", "month", "year"],
  ["year", "month", "day"],
  ["month", "day", "year"],
];
