import { NOTE_ROW, RESULT_HEADING_ROW } from "./layout.ts";
import { type Sheet, type Snapshot, valueAt } from "../workbook/snapshot.ts";

/** A sheet of results, and the report date it was made for as its notes say it (yyyy-mm-dd). */
export interface Report {
  readonly sheet: string;
  readonly asOf: string;
}

/** The sheets of results in a book, the latest first. */
export function reportsIn({ sheets }: Snapshot): Report[] {
  return sheets
    .flatMap((sheet): Report[] => {
      const asOf = asOfIn(sheet);
      return asOf === null || sheet.visibility !== "visible" ? [] : [{ sheet: sheet.name, asOf }];
    })
    .reverse()
    .sort((one, other) => other.asOf.localeCompare(one.asOf, "en"));
}

/** Whether a sheet shows results of ours: by the line under its title, or by our table below the notes. */
export function showsResults(sheet: Sheet): boolean {
  const isTable = sheet.tables.some(
    ({ name, area }) => /^spare/i.test(name) && area.firstRow >= RESULT_HEADING_ROW,
  );
  return isTable || asOfIn(sheet) !== null;
}

/** How a line under the title of such a sheet begins: the first one, or the first one below its answer. */
const AS_OF = /^As of (\d{4}-\d{2}-\d{2})[.,]/;

function asOfIn(sheet: Sheet): string | null {
  for (const row of [NOTE_ROW, NOTE_ROW + 1]) {
    const note = valueAt(sheet, row, 0);
    const asOf = typeof note === "string" ? AS_OF.exec(note)?.[1] : undefined;
    if (asOf !== undefined) return asOf;
  }
  return null;
}
