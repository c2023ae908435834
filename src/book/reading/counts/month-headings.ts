import { type HeadingRows, headingCandidates } from "../../headings/headings.ts";
import { monthsRead } from "../../headings/months.ts";
import { fault, listed, wholeSheet } from "../../records/problems.ts";
import type { Problem, Register } from "../../records/records.ts";
import { type Page, quoted } from "../../workbook/cells.ts";
import type { CountSheet } from "./count-sheets.ts";
import { namesDevices } from "./passed-counts.ts";

interface MonthsBeside {
  readonly sheets: readonly CountSheet[];
  readonly registers: readonly Register[];
  readonly isDevice: (key: string) => boolean;
}

const ENOUGH = 3;

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
          'Write each month with its year, such as 2026-03; where they pass the turn of a year both years in the title do as well, such as "2025/26".',
        ),
      ];
    }
    return [];
  });
}
