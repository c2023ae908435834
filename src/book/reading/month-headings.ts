import { type HeadingRows, headingCandidates } from "../headings/headings.ts";
import { monthsRead } from "../headings/months.ts";
import { fault, listed, notice, wholeSheet } from "../records/problems.ts";
import type { Problem, Register } from "../records/records.ts";
import {
  identifierAt,
  isBlank,
  keyOf,
  lastFilledRow,
  type Page,
  quoted,
} from "../workbook/cells.ts";
import type { CountSheet } from "./count-sheets.ts";

/** What was taken for granted of a sheet's months. */
export function monthNotices(one: CountSheet): Problem[] {
  if (one.shape !== "wide") return [];
  const {
    months,
    page: { sheet },
  } = one;
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

interface MonthsBeside {
  readonly sheets: readonly CountSheet[];
  readonly registers: readonly Register[];
  readonly isDevice: (key: string) => boolean;
}

const ENOUGH = 3;
const SAMPLE = 20;

/**
 * Headings that look like months and cannot be told, on the sheets of counts and on those that would be
 * one if their months could be read. Nothing under them is counted.
 */
export function unreadMonths(
  pages: readonly Page[],
  { sheets, registers, isDevice }: MonthsBeside,
): Problem[] {
  return pages.flatMap((page) => {
    const read = sheets.find((sheet) => sheet.page === page);
    const register = registers.find(({ sheet }) => sheet === page.sheet.name);
    // The dates of a register's first device are no headings.
    const isHeading = ({ last }: HeadingRows): boolean =>
      register === undefined || last === register.headerRow;
    const headings =
      read === undefined ? headingCandidates(page.sheet).filter(isHeading) : [read.heading];
    const least = read === undefined ? ENOUGH : 1;
    for (const heading of headings) {
      const { unread } = monthsRead(page, heading);
      if (unread.length < least || !namesDevices(page, heading, isDevice)) continue;
      const names = listed(unread.map((one) => quoted(one.heading)));
      return [
        fault(
          "month unclear",
          { ...wholeSheet(page.sheet.name), heading: unread[0]?.heading ?? "" },
          `${names} cannot be read as months of one year; what is below is not counted.`,
          "Write each month with its year, such as 2026-03.",
        ),
      ];
    }
    return [];
  });
}

/** Whether one of the first rows below the heading names a device of the register. */
export function namesDevices(
  page: Page,
  heading: HeadingRows,
  isDevice: (key: string) => boolean,
): boolean {
  const last = Math.min(lastFilledRow(page.sheet), heading.last + SAMPLE);
  for (let row = heading.last + 1; row <= last; row += 1) {
    const cells = page.sheet.values[row] ?? [];
    const named = cells.some(
      (value, column) => !isBlank(value) && isDevice(keyOf(identifierAt(page, row, column))),
    );
    if (named) return true;
  }
  return false;
}
