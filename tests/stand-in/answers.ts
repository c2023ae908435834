import type { ColumnCells, Plan } from "../../src/book/workbook/plan.ts";
import { type CellValue, cellKey } from "../../src/book/workbook/snapshot.ts";
import { answerKey, type BookModel } from "./model.ts";

/** Tells a workbook in memory what the formulas of a plan give: the results the plan has worked out. */
export function knowAnswers(book: BookModel, plan: Plan): void {
  const know = (sheet: string, [row, column]: readonly [number, number], given: Given): void => {
    if (given.formula === undefined) return;
    const text = given.formula.text.replaceAll("{r}", String(row + 1));
    book.answers.set(answerKey({ name: sheet }, cellKey(row, column), text), given.value);
  };
  for (const edit of plan.edits) {
    if (edit.kind === "addSheet") {
      for (const cell of edit.cells) know(edit.sheet, [cell.row, cell.column], cell);
    }
    for (const { column, rows, values, formula } of blocksOf(edit)) {
      rows.forEach((row, at) => {
        const value = values[at] ?? null;
        const sheet = "sheet" in edit ? edit.sheet : "";
        know(sheet, [row, column], { value, formula });
      });
    }
  }
}

interface Given {
  readonly value: CellValue;
  readonly formula?: ColumnCells["formula"] | undefined;
}

function blocksOf(edit: Plan["edits"][number]): readonly ColumnCells[] {
  if (edit.kind === "fillCells") return edit.blocks;
  return edit.kind === "addColumn" ? [edit.cells] : [];
}
