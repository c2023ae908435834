import type { MonthColumn } from "../../headings/months.ts";
import { notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { type Page, quoted } from "../../workbook/cells.ts";

/** What was taken for granted of a sheet's months. */
export function monthNotices({ sheet }: Page, months: readonly MonthColumn[]): Problem[] {
  const from = months.find(({ yearFrom }) => yearFrom !== undefined)?.yearFrom;
  const isPeriod = months.some((month) => month.isPeriod === true);
  return [
    ...(from === undefined
      ? []
      : [
          notice(
            "month unclear",
            wholeSheet(sheet.name),
            `The months have no year of their own; it is taken from ${quoted(from)}.`,
            "Write the year with each month if that is another one.",
          ),
        ]),
    ...(isPeriod
      ? [
          notice(
            "month unclear",
            wholeSheet(sheet.name),
            "The periods are taken as the months of the calendar year, P01 as January.",
            "Write the months instead if the periods begin in another one.",
          ),
        ]
      : []),
  ];
}
