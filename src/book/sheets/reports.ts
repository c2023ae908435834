import { NOTE_ROW } from "./layout.ts";
import { type Snapshot, valueAt } from "../workbook/snapshot.ts";

/** A sheet of results, and the report date it was made for as its notes say it (yyyy-mm-dd). */
export interface Report {
  readonly sheet: string;
  readonly asOf: string;
}

/** The sheets of results in a book, the latest first. */
export function reportsIn({ sheets }: Snapshot): Report[] {
  return sheets
    .flatMap((sheet): Report[] => {
      const note = valueAt(sheet, NOTE_ROW, 0);
      const asOf = typeof note === "string" ? AS_OF.exec(note)?.[1] : undefined;
      if (asOf === undefined || sheet.visibility !== "visible") return [];
      return [{ sheet: sheet.name, asOf }];
    })
    .reverse()
    .sort((one, other) => other.asOf.localeCompare(one.asOf, "en"));
}

/** How the line under the title of such a sheet begins. */
const AS_OF = /^As of (\d{4}-\d{2}-\d{2})[.,]/;
