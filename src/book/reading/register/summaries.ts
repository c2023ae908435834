import { folded } from "../../languages/words-of.ts";
import { isLastDone } from "../../records/positions.ts";
import { fault } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { quoted } from "../../workbook/cells.ts";
import type { Found } from "./register.ts";

/** Headings that a spreadsheet gives to what it has summed up, in the languages we read. */
const SUMMED =
  /^(?:max|min|sum|count|average|maximum|minimum|anzahl|summe|mittelwert|somme|nombre|moyenne|suma|cuenta|promedio|conteggio|somma|aantal|som|soma|contagem|liczba)\.?\s+(?:of|von|de|di|van|z)\s/u;

/** A register that is a summary of another list: its rows may be groups and totals, which count as devices. */
export function summaryFaults({ page, register }: Found): Problem[] {
  const summed = register.matches.find(
    ({ field, heading }) => isLastDone(field) && SUMMED.test(folded(heading)),
  );
  if (summed === undefined) return [];
  const { column, heading } = summed;
  const place = { sheet: page.sheet.name, row: null, column, heading };
  const cause = `${quoted(heading)} is the heading of a summary: rows of groups and totals in it count as devices, and their dates are the latest of several.`;
  return [fault("summary", place, cause, "Use the list that the summary was made from.")];
}
