import { listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import type { HeadingRows } from "../../headings/headings.ts";
import { columnLetters, type Sheet } from "../../workbook/snapshot.ts";

/** What a person looking at the sheet may not see although it is read: stated, never skipped. */
export function unseenNotices(sheet: Sheet, heading: HeadingRows, lastRow: number): Problem[] {
  const place = wholeSheet(sheet.name);
  const problems: Problem[] = [];
  const rows = [...sheet.hiddenRows]
    .filter((row) => row > heading.last && row <= lastRow)
    .sort((one, other) => one - other);
  if (rows.length > 0) {
    const names = listed(rows.map((row) => String(row + 1)));
    const cause = `Hidden rows are included: ${names}.`;
    problems.push(notice("hidden rows", place, cause, "Unhide them to see what is counted."));
  }
  const columns = [...sheet.hiddenColumns]
    .filter((column) => (heading.texts[column] ?? "") !== "")
    .sort((one, other) => one - other);
  if (columns.length > 0) {
    const names = listed(columns.map((column) => columnLetters(column)));
    const cause = `Hidden columns are included: ${names}.`;
    problems.push(notice("hidden columns", place, cause, "Unhide them to see what is read."));
  }
  if (sheet.filter?.active === true) {
    const cause = "A filter hides rows; all rows are included.";
    problems.push(notice("filtered", place, cause, "Clear the filter before adding columns."));
  }
  if (heading.first < heading.last) {
    const cause = `The headings are in rows ${heading.first + 1} ${heading.last - heading.first > 1 ? "to" : "and"} ${heading.last + 1}; they are read as one.`;
    problems.push(
      notice(
        "two-row heading",
        { ...place, row: heading.last },
        cause,
        "Nothing needs to be done.",
      ),
    );
  }
  return problems;
}
