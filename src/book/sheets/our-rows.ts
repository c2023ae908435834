import { type CellValue, type Sheet, valueAt } from "../workbook/snapshot.ts";
import { headingColumn, headingRow, type Layout } from "./layout.ts";
import { cellIn, lostHeadings } from "./lost-headings.ts";

/** One row of a sheet of ours: values by heading. */
export interface OurRow {
  readonly row: number;
  readonly values: ReadonlyMap<string, CellValue>;
}

/** The filled rows of a sheet of ours, each value under its heading, or in the place of one that was renamed. */
export function readRows(sheet: Sheet, layout: Layout): OurRow[] {
  const lost = new Map(lostHeadings(sheet, layout).map((one) => [one.heading, one.columns]));
  const columns = layout.columns.map(({ heading, inPlace }) => {
    const beside = inPlace === true ? (lost.get(heading) ?? []) : [];
    return [heading, headingColumn(sheet, heading), beside] as const;
  });
  const rows: OurRow[] = [];
  for (let row = headingRow(sheet) + 1; row < sheet.values.length; row += 1) {
    const values = new Map<string, CellValue>();
    for (const [heading, column, beside] of columns) {
      const value = column === null ? cellIn(sheet, row, beside) : valueAt(sheet, row, column);
      if (value !== null && value !== "") values.set(heading, value);
    }
    if (values.size > 0) rows.push({ row, values });
  }
  return rows;
}
