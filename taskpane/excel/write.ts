import type {
  AddChoices,
  AddColumn,
  AddName,
  AddRule,
  AddSheet,
  AddTable,
  ColumnCells,
  Edit,
  GrowTable,
  Plan,
} from "../../src/book/workbook/plan.ts";
import { sameFormula } from "../../src/book/workbook/same-formula.ts";
import { type Area, areaText } from "../../src/book/workbook/snapshot.ts";
import { rangeAt } from "./area.ts";
import {
  ACTION_CHARACTERS,
  columnRuns,
  copiedRuns,
  formulaOf,
  isCopyable,
  type Put,
  putOf,
  runsOf,
  weightOf,
} from "./cells.ts";
import { addChart } from "./chart.ts";
import { putPrint } from "./print.ts";
import type { Witness } from "./witness.ts";
import { alike, dress, DRESS_ACTIONS, rowsOf, setFormat } from "./look.ts";

type Context = Excel.RequestContext;

/** Where edits are put. */
export interface Writer {
  readonly context: Context;
  /** Counts characters towards the next request, and sends it when they are many. */
  readonly count: (characters: number) => Promise<void>;
  /** Headings that new columns take their look from, loaded already. */
  readonly models: ReadonlyMap<AddColumn, Excel.Range>;
  /** What the names of the workbook refer to, by the name in lower case. */
  readonly names: ReadonlyMap<string, string>;
  /** Sheets with rows hidden by a filter, in lower case. */
  readonly filtered: ReadonlySet<string>;
  /** Sees what stands where something is about to be written. */
  readonly witness: Pick<Witness, "over">;
}

/** Widths are characters; Excel wants points. */
const POINTS_A_CHARACTER = 5.6;
const POINTS_MORE = 4;

/** Puts one edit. What it expects was looked at before. */
export async function putEdit(edit: Edit, writer: Writer): Promise<void> {
  await writer.count(ACTION_CHARACTERS);
  const sheet = (): Excel.Worksheet =>
    writer.context.workbook.worksheets.getItem("sheet" in edit ? edit.sheet : "");
  switch (edit.kind) {
    case "addSheet":
      return putSheet(edit, writer);
    case "addColumn":
      return putColumn(sheet(), edit, writer);
    case "fillCells":
      for (const block of edit.blocks) await putCells(edit.sheet, block, writer);
      break;
    case "addTable":
      putTable(sheet(), edit);
      break;
    case "growTable":
      growTable(sheet(), edit);
      break;
    case "growFilter":
      putFilter(sheet(), edit.area);
      break;
    case "addRule":
      putRules(sheet(), edit);
      break;
    case "addChoices":
      putChoices(sheet(), edit);
      break;
    case "addName":
      putName(writer, edit);
      break;
    case "addChart":
      await addChart(writer.context, sheet(), edit);
      break;
    case "printSetup":
      putPrint(sheet(), edit);
  }
}

async function putSheet(edit: AddSheet, writer: Writer): Promise<void> {
  const sheet = writer.context.workbook.worksheets.add(edit.sheet);
  const width = edit.cells.reduce((most, { column }) => Math.max(most, column + 1), 1);
  const height = edit.cells.reduce((most, { row }) => Math.max(most, row + 1), 1);
  const rows: Put[][] = Array.from({ length: height }, () =>
    Array.from({ length: width }, () => ""),
  );
  for (const { row, column, value, formula } of edit.cells) {
    const line = rows[row];
    if (line) line[column] = formula === undefined ? putOf(value) : formulaOf(formula, row);
  }
  const weigh = (line: readonly Put[]): number =>
    line.reduce<number>((sum, put) => sum + weightOf(put), 0);
  const all = rows.map((_, row) => row);
  for (const run of runsOf(all, (row) => rows[row] ?? [], weigh)) {
    const range = sheet.getRangeByIndexes(run.firstRow, 0, run.items.length, width);
    range.formulas = run.items.map((line) => [...line]);
    await writer.count(run.weight);
  }
  // Formats after the values: into a cell of the text format Excel would put numbers as text.
  for (const run of alike(edit.cells)) {
    dress(rangeAt(sheet, run.area), run);
    await writer.count(DRESS_ACTIONS * ACTION_CHARACTERS + rowsOf(run.area) * run.format.length);
  }
  edit.widths.forEach((characters, column) => {
    const points = characters * POINTS_A_CHARACTER + POINTS_MORE;
    sheet.getRangeByIndexes(0, column, 1, 1).format.columnWidth = points;
  });
  for (const { row, points } of edit.heights ?? []) {
    sheet.getRangeByIndexes(row, 0, 1, 1).format.rowHeight = points;
    await writer.count(ACTION_CHARACTERS);
  }
  for (const column of edit.hiddenColumns ?? []) {
    sheet.getRangeByIndexes(0, column, 1, 1).columnHidden = true;
    await writer.count(ACTION_CHARACTERS);
  }
  if (edit.freezeRows > 0) sheet.freezePanes.freezeRows(edit.freezeRows);
  await writer.count(edit.widths.length * ACTION_CHARACTERS);
}

async function putCells(sheetName: string, cells: ColumnCells, writer: Writer): Promise<void> {
  const sheet = writer.context.workbook.worksheets.getItem(sheetName);
  const { column, formula, format } = cells;
  // A copy into filtered rows would leave out those that are hidden.
  const copies =
    formula !== undefined && isCopyable(formula) && !writer.filtered.has(sheetName.toLowerCase());
  for (const { firstRow, items, weight } of copies ? copiedRuns(cells) : columnRuns(cells)) {
    writer.witness.over({ sheet: sheetName, column, firstRow, rows: items.length });
    const range = sheet.getRangeByIndexes(firstRow, column, items.length, 1);
    if (copies) {
      const first = sheet.getRangeByIndexes(firstRow, column, 1, 1);
      first.formulas = [[formulaOf(formula, firstRow)]];
      if (items.length > 1) range.copyFrom(first, "Formulas");
    } else range.formulas = items.map((put) => [put]);
    if (format !== undefined) setFormat(range, format, items.length);
    await writer.count(weight);
  }
}

/** Asks for the headings that new columns take their look from, all in one request. */
export function loadModels({ workbook }: Context, plan: Plan): Map<AddColumn, Excel.Range> {
  const models = new Map<AddColumn, Excel.Range>();
  const byPlace = new Map<string, Excel.Range>();
  for (const edit of plan.edits) {
    if (edit.kind !== "addColumn") continue;
    const { sheet, headerRow, like } = edit;
    const place = `${headerRow} ${like} ${sheet}`;
    const model =
      byPlace.get(place) ??
      workbook.worksheets.getItem(sheet).getRangeByIndexes(headerRow, like, 1, 1).load(MODEL);
    byPlace.set(place, model);
    models.set(edit, model);
  }
  return models;
}

const MODEL = "format/wrapText,format/font/bold,format/font/color,format/fill/color";

async function putColumn(sheet: Excel.Worksheet, edit: AddColumn, writer: Writer): Promise<void> {
  const { headerRow, cells, title, width } = edit;
  const heading = sheet.getRangeByIndexes(headerRow, cells.column, 1, 1);
  const { format } = heading;
  const model = writer.models.get(edit)?.format;
  writer.witness.over({ sheet: edit.sheet, column: cells.column, firstRow: headerRow, rows: 1 });
  heading.values = [[putOf(title)]];
  format.columnWidth = width * POINTS_A_CHARACTER + POINTS_MORE;
  if (model) {
    format.font.bold = model.font.bold;
    format.font.color = model.font.color;
    // An unfilled cell reads as white; filling it white would hide the grid.
    if (!/^(?:#FFFFFF)?$/i.test(model.fill.color)) format.fill.color = model.fill.color;
    format.wrapText = model.wrapText;
  }
  await putCells(edit.sheet, cells, writer);
}

function putTable(sheet: Excel.Worksheet, { area, name, buttonless }: AddTable): void {
  const table = sheet.tables.add(areaText(area), true);
  table.name = name;
  table.style = TABLE_STYLE;
  if (buttonless) table.showFilterButton = false;
}

/** Plain rules between the rows, the same as in files. */
const TABLE_STYLE = "TableStyleLight1";

function growTable(sheet: Excel.Worksheet, { table, area }: GrowTable): void {
  sheet.tables.getItem(table).resize(areaText(area));
}

/** Moves a sheet's filter: a sheet has one, and the old one must go before the new one can be there. */
export function putFilter({ autoFilter }: Excel.Worksheet, area: Area): void {
  autoFilter.remove();
  autoFilter.apply(areaText(area));
}

function putRules(sheet: Excel.Worksheet, { area, rules }: AddRule): void {
  const { conditionalFormats } = rangeAt(sheet, area);
  for (const { formula, look } of rules) {
    const { custom } = conditionalFormats.add("Custom");
    custom.rule.formula = `=${formula}`;
    if (look.bold === true) custom.format.font.bold = true;
    if (look.color !== undefined) custom.format.font.color = `#${look.color}`;
    if (look.fill !== undefined) custom.format.fill.color = `#${look.fill}`;
    if (look.format !== undefined) custom.format.numberFormat = look.format;
  }
}

function putChoices(sheet: Excel.Worksheet, { area, choices, message }: AddChoices): void {
  const { dataValidation } = rangeAt(sheet, area);
  dataValidation.rule = ruleOf(choices);
  dataValidation.ignoreBlanks = true;
  dataValidation.errorAlert = {
    message,
    showAlert: true,
    style: "Stop",
    title: "Please look again",
  };
}

function ruleOf(choices: AddChoices["choices"]): Excel.DataValidationRule {
  if (choices.kind === "list")
    return { list: { inCellDropDown: true, source: choices.values.join(",") } };
  if (choices.kind === "listFrom") {
    return { list: { inCellDropDown: true, source: `=${choices.refersTo}` } };
  }
  const between = {
    formula1: `=${choices.from}`,
    formula2: `=${choices.to}`,
    operator: "Between",
  } as const;
  if (choices.kind === "date") return { date: between };
  return choices.whole ? { wholeNumber: between } : { decimal: between };
}

/** A new name; one that is there already may only lead nowhere, or to the same place. */
function putName({ context, names }: Writer, { name, refersTo }: AddName): void {
  const there = names.get(name.toLowerCase());
  if (there === undefined) context.workbook.names.add(name, `=${refersTo}`);
  else if (!sameFormula(there, refersTo))
    context.workbook.names.getItem(name).formula = `=${refersTo}`;
}
