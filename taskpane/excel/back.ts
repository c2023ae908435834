import type { Receipt } from "../../src/book/receipt.ts";
import { areaText } from "../../src/book/snapshot.ts";
import { rangeAt } from "./area.ts";
import { putOf } from "./cells.ts";
import type { Writer } from "./write.ts";

/** Undoes what a receipt lists, the last written first. What may bar it was looked at before. */
export async function putBack(receipt: Receipt, writer: Writer): Promise<void> {
  const { workbook } = writer.context;
  for (const { sheet, area } of receipt.dressed) {
    const range = rangeAt(workbook.worksheets.getItem(sheet), area);
    range.conditionalFormats.clearAll();
    range.dataValidation.clear();
  }
  for (const { sheet, table, area } of receipt.tables) {
    workbook.worksheets.getItem(sheet).tables.getItem(table).resize(areaText(area));
  }
  for (const { sheet: name, written, before } of [...receipt.cells].reverse()) {
    const sheet = workbook.worksheets.getItem(name);
    for (const [at, { value, formula, format }] of before.entries()) {
      const range = sheet.getRangeByIndexes(written.rows[at] ?? 0, written.column, 1, 1);
      range.formulas = [[formula === null ? putOf(value) : `=${formula}`]];
      if (written.format !== undefined) range.numberFormat = [[format]];
    }
    await writer.count(before.length * 4);
  }
  for (const name of receipt.names) workbook.names.getItem(name).delete();
  // Nothing but our own sheets, added by the plan that is taken back and unchanged since.
  for (const name of [...receipt.sheets].reverse()) workbook.worksheets.getItem(name).delete();
}
