import { isLastDone } from "../records/positions.ts";
import { fault, listed } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { quoted, trueDate } from "../workbook/cells.ts";
import { address, columnLetters } from "../workbook/snapshot.ts";
import type { Found } from "./register.ts";

type Piece = "day" | "month" | "year";

/** Dates of parts that are split over three columns, day, month and year in whatever order: no one of them is a date. */
export function splitDates({ page, register }: Found): Problem[] {
  const { sheet } = page;
  const { rows } = register;
  const pieceIn = (column: number): ReadonlySet<Piece> => {
    const cells = rows.flatMap((row) => sheet.values[row]?.[column] ?? []);
    const isBare = rows.every((row) => trueDate(page, row, column) === null);
    const isWithin = (low: number, high: number): boolean =>
      cells.length > 0 &&
      isBare &&
      cells.every(
        (cell) => typeof cell === "number" && Number.isInteger(cell) && cell >= low && cell <= high,
      );
    return new Set<Piece>([
      ...(isWithin(1, 31) ? (["day"] as const) : []),
      ...(isWithin(1, 12) ? (["month"] as const) : []),
      ...(isWithin(1990, 2100) ? (["year"] as const) : []),
    ]);
  };
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

const ORDERS: readonly (readonly Piece[])[] = [
  ["day", "month", "year"],
  ["year", "month", "day"],
  ["month", "day", "year"],
];
