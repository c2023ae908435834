import { counted } from "../../../src/book/records/problems.ts";

/** What the pane says under Columns, and of the columns that a change would add. */
export const COLUMNS_WORDS = {
  lead: (sheet: string, row: number, rows: number): string =>
    `${sheet}, headings in row ${row}, ${counted(rows, "device")}.`,
  empty: "The register holds no devices yet; fill in its rows first.",
  sheet: "Sheet of the register",
  each: "every sheet that is one",
  headings: "Headings understood",
  none: "no column",
  sure: (percent: string): string => `${percent} sure`,
  chosen: "chosen",
  missing: "Not found yet",
  way: "Written as",
  portable: "Native formulas",
  portableHint: "work without the add-in; best for a shared workbook",
  live: "Worksheet functions",
  liveHint: "need the add-in",
  values: "Values",
  valuesHint: "stay as they are until updated here",
  show: "Preview the columns",
  first: "The first rows",
  column: "Column",
  cells: "Cells",
} as const;
