import { ownTitles } from "../../answers/titles.ts";
import type { Part } from "../../records/records.ts";
import type { Page } from "../../workbook/cells.ts";

/** Rows in which headings stand, and how many of ours are no chance. */
const ROWS = 20;
const ENOUGH = 2;

/** Whether a sheet has columns that we write beside a register: it is a copy of one, no log and no counts. */
export function hasOurColumns({ sheet }: Page, parts: readonly Part[]): boolean {
  return sheet.values.slice(0, ROWS).some((cells) => {
    const texts = cells.map((value) => (typeof value === "string" ? value : ""));
    const isOurs = ownTitles(parts)(texts);
    return texts.filter((text) => text !== "" && isOurs(text)).length >= ENOUGH;
  });
}
