import type { CellsBefore, Receipt } from "../../src/book/workbook/receipt.ts";
import { areaText } from "../../src/book/workbook/snapshot.ts";
import { rangeAt } from "./area.ts";
import { ACTION_CHARACTERS, putOf, runsOf, weightOf } from "./cells.ts";
import type { Theirs } from "./witness.ts";
import { putFilter, type Writer } from "./write.ts";

/** Undoes what a receipt lists but for its sheets, the last written first. What may bar it was looked at before. */
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
  for (const { sheet, area } of receipt.filters) {
    putFilter(workbook.worksheets.getItem(sheet), area);
  }
  for (const block of [...receipt.cells].reverse()) await putCellsBack(block, writer);
  for (const { name, refersTo } of receipt.renamed) {
    workbook.names.getItem(name).formula = `=${refersTo}`;
  }
  for (const name of receipt.names) workbook.names.getItem(name).delete();
}

/**
 * Removes the sheets of a receipt: nothing but our own, added by the plan that is taken back and unchanged
 * since. It empties Excel's own undo and is refused within a group of it, so it comes last and alone.
 */
export function removeSheets({ workbook }: Excel.RequestContext, { sheets }: Receipt): void {
  for (const name of [...sheets].reverse()) workbook.worksheets.getItem(name).delete();
}

/** Puts cells of others back as they left them. */
export function giveBack({ workbook }: Excel.RequestContext, theirs: readonly Theirs[]): void {
  for (const { sheet, row, column, value, formula } of theirs) {
    const range = workbook.worksheets.getItem(sheet).getRangeByIndexes(row, column, 1, 1);
    range.formulas = [[formula === null ? putOf(value) : `=${formula}`]];
  }
}

async function putCellsBack(
  block: CellsBefore,
  { context, count, witness }: Writer,
): Promise<void> {
  const { sheet: name, written, added, before } = block;
  const sheet = context.workbook.worksheets.getItem(name);
  const cellAt = (at: number) => before[at] ?? { value: null, formula: null, format: "General" };
  const putAt = (at: number) => {
    const { value, formula, format } = cellAt(at);
    return { put: formula === null ? putOf(value) : `=${formula}`, format };
  };
  const runs = runsOf(written.rows, putAt, ({ put, format }) => weightOf(put) + format.length);
  for (const { firstRow, items, weight } of runs) {
    witness.over({ sheet: name, column: written.column, firstRow, rows: items.length });
    const range = sheet.getRangeByIndexes(firstRow, written.column, items.length, 1);
    if (added) range.clear("All");
    else {
      range.formulas = items.map(({ put }) => [put]);
      if (written.format !== undefined) range.numberFormat = items.map(({ format }) => [format]);
    }
    await count(added ? ACTION_CHARACTERS : weight);
  }
}
