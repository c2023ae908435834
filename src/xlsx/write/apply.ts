import type { AddColumn, Edit, FillCells } from "../../book/workbook/plan.ts";
import { address, cellKey } from "../../book/workbook/snapshot.ts";
import { addSheet } from "./new-sheet.ts";
import { askForCalculation, defineName } from "./book-text.ts";
import { bookFolder, type Change, sheetDraft } from "./change.ts";
import { addChart } from "./chart.ts";
import { addChoices } from "./choices.ts";
import {
  addPart,
  addOnlyRelation,
  draftHas,
  draftRelations,
  removePart,
  setPart,
} from "../package/draft.ts";
import { WorkbookError } from "../file/errors.ts";
import { dynamicMark } from "./metadata.ts";
import { needsCalculation } from "./recalculation.ts";
import { setUpPrint } from "./print.ts";
import { addRule } from "./rules.ts";
import { originOf, type SheetDraft, writeCell, writeColumn } from "./sheet-draft.ts";
import { stylesChanged, writeStyles } from "../read/styles.ts";
import { addTable, growTable } from "./table.ts";
import { growFilter } from "./filter.ts";
import { writeSheet } from "./write-sheet.ts";

const STYLES_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml";

/** Puts one edit into the change. */
export function applyEdit(change: Change, edit: Edit): void {
  switch (edit.kind) {
    case "addColumn":
      addColumn(change, edit);
      break;
    case "fillCells":
      fillCells(change, edit);
      break;
    case "addSheet":
      addSheet(change, edit);
      break;
    case "addTable":
      addTable(change, edit);
      break;
    case "growTable":
      growTable(change, edit);
      break;
    case "growFilter":
      growFilter(change, edit);
      break;
    case "addRule":
      addRule(change, edit);
      break;
    case "addChoices":
      addChoices(change, edit);
      break;
    case "addName":
      defineName(change, { name: edit.name, sheet: null, refersTo: edit.refersTo });
      break;
    case "addChart":
      addChart(change, edit);
      break;
    case "printSetup":
      setUpPrint(change, edit);
      break;
  }
}

function addColumn(change: Change, edit: AddColumn): void {
  const sheet = sheetDraft(change, edit.sheet);
  const { column } = edit.cells;
  const like = { kind: "like", column: edit.like } as const;
  const { values, formulas } = sheet.content;
  const isTaken = (row: number): boolean =>
    (values[row]?.[column] ?? null) !== null ||
    (formulas.size > 0 && formulas.has(cellKey(row, column)));
  const taken = isTaken(edit.headerRow) ? edit.headerRow : edit.cells.rows.find(isTaken);
  if (taken !== undefined) {
    throw new WorkbookError(
      `${edit.sheet}!${address(taken, column)} is not empty, so no column is added there: make the plan again.`,
    );
  }
  sheet.headingRows.add(edit.headerRow);
  writeCell(sheet, edit.headerRow, {
    column,
    value: edit.title,
    origin: { ...originOf(like), wraps: true },
  });
  writeColumn(sheet, edit.cells, like);
  sheet.widths.set(column, edit.width);
}

function fillCells(change: Change, edit: FillCells): void {
  const sheet = sheetDraft(change, edit.sheet);
  for (const { row } of edit.expects.headers ?? []) sheet.headingRows.add(row);
  for (const block of edit.blocks) writeColumn(sheet, block, { kind: "own" });
}

/** Writes the sheets, styles and bookkeeping of a change into its draft. */
export function finish(change: Change): void {
  const { book, draft } = change;
  const written = [...change.sheets.values()];
  const dynamic = written.some(hasLiveFormula) ? dynamicMark(change) : 0;
  const writing = { styles: change.styles, dynamic, codec: draft.file.codec };
  for (const sheet of written) setPart(draft, sheet.path, writeSheet(sheet, writing));
  if (stylesChanged(change.styles)) keepStyles(change);
  if (needsCalculation(change)) askForCalculation(change);
  const chain = draftRelations(draft, book.path).find(({ type }) => type === "calcChain")?.target;
  // A chain that does not fit the formulas makes Excel offer a repair; it builds a new one by itself.
  if (chain && draftHas(draft, chain) && written.some(changesFormulas)) {
    removePart(draft, book.path, chain);
  }
}

function keepStyles(change: Change): void {
  const { book, draft, styles } = change;
  const text = writeStyles(styles);
  if (book.styles) {
    setPart(draft, styles.path, text);
    return;
  }
  const path = addPart(draft, `${bookFolder(change)}styles.xml`, STYLES_TYPE, text);
  addOnlyRelation(draft, book.path, "styles", path);
}

function hasLiveFormula(sheet: SheetDraft): boolean {
  return sheet.writes.some((line) => line.some(({ origin }) => origin.formula?.live));
}

function changesFormulas(sheet: SheetDraft): boolean {
  const { formulas } = sheet.content;
  return sheet.writes.some((line, row) =>
    line.some(
      ({ column, origin }) =>
        !origin.keeps && (origin.formula !== null || formulas.has(cellKey(row, column))),
    ),
  );
}
