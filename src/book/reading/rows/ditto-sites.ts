import { identifierAt, type Page } from "../../workbook/cells.ts";

import type { RowNote } from "./row-faults.ts";

/** What stands for the cell above, in the languages we read: common practice, no source. */
const DITTO =
  /^(?:["\u201c-\u201f\u2033\u3003\u00a8]|''|\u2018\u2018|\u2019\u2019|,,|-\s*["\u201d\u2033]\s*-|(?:ditto|dito|dto|do|idem|id|ibid|ibidem|s\.\s*o|siehe oben|wie oben|j\.?\s*w|jak wy\u017cej|come sopra|c\.\s*s|same|as above)\.?)$/i;

/** Whether a text stands for the cell above it. */
export function isDitto(text: string): boolean {
  return DITTO.test(text.trim());
}

/** Sites of rows whose cell stands for the one above; no site where nothing stands above. */
export function dittoSites(
  page: Page,
  column: number | undefined,
  {
    rows,
    byRow,
    heading,
  }: {
    readonly rows: readonly number[];
    /** Sites that rows have otherwise than by their own cell. */
    readonly byRow: ReadonlyMap<number, string>;
    readonly heading: string;
  },
): { readonly byRow: ReadonlyMap<number, string>; readonly notes: readonly RowNote[] } {
  const found = new Map<number, string>();
  const notes: RowNote[] = [];
  if (column === undefined) return { byRow: found, notes };
  let above = "";
  for (const row of rows) {
    const own = byRow.get(row) ?? identifierAt(page, row, column);
    if (!isDitto(own)) {
      above = own;
      continue;
    }
    found.set(row, above);
    if (!isDitto(identifierAt(page, row, column))) continue;
    notes.push(["siteAbove", { sheet: page.sheet.name, row, column, heading }, own, above]);
  }
  return { byRow: found, notes };
}
