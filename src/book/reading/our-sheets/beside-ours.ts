import { remarkReader } from "../../headings/remark-text.ts";
import { fault, listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { findSheet, headingRow, isLaidOut, type Layout, textOf } from "../../sheets/layout.ts";
import { besideColumns } from "../../sheets/lost-headings.ts";
import { OUR_SHEETS } from "../../sheets/our-sheets.ts";
import { readRows } from "../../sheets/our-rows.ts";
import { cellAt, type Sheet, type Snapshot, valueAt } from "../../workbook/snapshot.ts";
import { unweighed } from "../remarks/comments.ts";
import { firstWords } from "../told/first-words.ts";

/**
 * What stands on our sheets or beside them and is not read: a second sheet laid out as one of ours, a second table
 * beside it, columns that people added, and comments. No figure comes of it, so it is told.
 */
export function besideOurs(snapshot: Snapshot, parts: readonly Part[]): Problem[] {
  const { says } = remarkReader(parts);
  return OUR_SHEETS.flatMap((layout) => {
    const sheet = findSheet(snapshot, layout);
    if (sheet === null) return [];
    const others = snapshot.sheets.filter((one) => one !== sheet && isLaidOut(one, layout));
    return [
      ...others.filter((one) => readRows(one, layout).length > 0).map((one) => second(one, sheet)),
      ...columnsBeside(sheet, layout, (text) => says(text) === "against"),
      ...commentsOn(sheet, layout),
    ];
  });
}

function second({ name }: Sheet, { name: read }: Sheet): Problem {
  const cause = `${name} is laid out as ${read} is and is not read, so nothing of it is in any list.`;
  const fix = `Put its rows below those of ${read}, or delete the sheet if they stand there.`;
  return notice("sheet not read", wholeSheet(name), cause, fix);
}

function columnsBeside(
  sheet: Sheet,
  layout: Layout,
  isAgainst: (text: string) => boolean,
): Problem[] {
  const { name } = sheet;
  const head = headingRow(sheet);
  const ours = new Set(layout.columns.map(({ heading }) => heading.toLowerCase()));
  const columns = besideColumns(sheet, layout).map((column) => ({
    column,
    heading: textOf(valueAt(sheet, head, column)),
  }));
  const again = columns.filter(({ heading }) => ours.has(heading.toLowerCase()));
  const added = columns.filter((one) => !again.includes(one));
  return [
    ...(again.length === 0
      ? []
      : [
          secondTable(
            name,
            again.map(({ heading }) => heading),
          ),
        ]),
    ...added.map(({ column, heading }) => {
      const cells = sheet.values.slice(head + 1).map((cells) => textOf(cells[column] ?? null));
      const texts = [...new Set(cells)].filter((text) => text !== "");
      const against = texts.filter(isAgainst);
      const some = listed((against.length > 0 ? against : texts).map(firstWords));
      const cause = `${name} has a column that is not read; it says ${some}.`;
      const fix = "See whether it changes what stands beside it; if so, change that.";
      const tell = against.length > 0 ? fault : notice;
      return tell("column not read", { sheet: name, row: null, column, heading }, cause, fix);
    }),
  ];
}

function secondTable(name: string, headings: readonly string[]): Problem {
  const cause = `${name} has ${listed(headings)} a second time, beside its table; what stands there is not read.`;
  const fix = `Put these rows below those of the first table of ${name}.`;
  return notice("sheet not read", wholeSheet(name), cause, fix);
}

function commentsOn(sheet: Sheet, layout: Layout): Problem[] {
  const head = headingRow(sheet);
  return [...(sheet.comments ?? [])].flatMap(([key, text]) => {
    const { row, column } = cellAt(key);
    if (row < head) return [];
    const heading = textOf(valueAt(sheet, head, column)) || layout.name;
    return unweighed({ sheet: sheet.name, row, column, heading }, text);
  });
}
