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
  Look,
  PrintSetup,
  SheetCell,
} from "../../src/book/plan.ts";
import { type Area, areaText } from "../../src/book/snapshot.ts";
import { MOST_CELLS, rangeAt } from "./area.ts";
import { formulaOf, type Put, putOf, runsOf } from "./cells.ts";
import { addChart } from "./chart.ts";

type Context = Excel.RequestContext;

/** Puts edits into a workbook; `flush` sends what has gathered, and is called when it is enough. */
export interface Writer {
  readonly context: Context;
  /** Counts cells towards the next request, and sends it when they are many. */
  readonly count: (cells: number) => Promise<void>;
}

/** Widths are characters; Excel wants points. */
const POINTS_A_CHARACTER = 5.6;
const POINTS_MORE = 4;

/** Puts one edit. What it expects was looked at before. */
export async function putEdit(edit: Edit, writer: Writer): Promise<void> {
  const sheet = (): Excel.Worksheet =>
    writer.context.workbook.worksheets.getItem("sheet" in edit ? edit.sheet : "");
  switch (edit.kind) {
    case "addSheet":
      return putSheet(edit, writer);
    case "addColumn":
      return putColumn(sheet(), edit, writer);
    case "fillCells":
      for (const block of edit.blocks) await putCells(sheet(), block, writer);
      break;
    case "addTable":
      putTable(sheet(), edit);
      break;
    case "growTable":
      growTable(sheet(), edit);
      break;
    case "addRule":
      putRules(sheet(), edit);
      break;
    case "addChoices":
      putChoices(sheet(), edit);
      break;
    case "addName":
      putName(writer.context, edit);
      break;
    case "addChart":
      addChart(writer.context, sheet(), edit);
      break;
    case "printSetup":
      putPrint(sheet(), edit);
  }
}

async function putSheet(edit: AddSheet, writer: Writer): Promise<void> {
  const sheet = writer.context.workbook.worksheets.add(edit.sheet);
  const width = edit.cells.reduce((most, { column }) => Math.max(most, column + 1), 1);
  const height = edit.cells.reduce((most, { row }) => Math.max(most, row + 1), 1);
  const step = Math.max(1, Math.floor(MOST_CELLS / width));
  // Looks and formats first: a text format keeps what is typed into it text.
  for (const run of alike(edit.cells)) dress(rangeAt(sheet, run.area), run);
  const rows: Put[][] = Array.from({ length: height }, () =>
    Array.from({ length: width }, () => ""),
  );
  for (const { row, column, value, formula } of edit.cells) {
    const line = rows[row];
    if (line) line[column] = formula === undefined ? putOf(value) : formulaOf(formula, row);
  }
  for (let first = 0; first < height; first += step) {
    const lines = rows.slice(first, first + step);
    sheet.getRangeByIndexes(first, 0, lines.length, width).formulas = lines;
    await writer.count(lines.length * width);
  }
  edit.widths.forEach((characters, column) => {
    const points = characters * POINTS_A_CHARACTER + POINTS_MORE;
    sheet.getRangeByIndexes(0, column, 1, 1).format.columnWidth = points;
  });
  if (edit.freezeRows > 0) sheet.freezePanes.freezeRows(edit.freezeRows);
}

/** Cells below one another that look alike. */
interface Alike {
  readonly area: Area;
  readonly look: Look;
  readonly format: string;
}

function alike(cells: readonly SheetCell[]): Alike[] {
  const byColumn = [...cells].sort(
    (one, other) => one.column - other.column || one.row - other.row,
  );
  const runs: { area: { -readonly [K in keyof Area]: number }; look: Look; format: string }[] = [];
  for (const { row, column, look = "plain", format = "General" } of byColumn) {
    const last = runs.at(-1);
    const follows = last?.area.lastColumn === column && last.area.lastRow === row - 1;
    if (follows && last.look === look && last.format === format) last.area.lastRow = row;
    else {
      const area = { firstRow: row, lastRow: row, firstColumn: column, lastColumn: column };
      runs.push({ area, look, format });
    }
  }
  return runs.filter(({ look, format }) => look !== "plain" || format !== "General");
}

const HEADING_FILL = "#E7E6E6";
const INPUT_FILL = "#FFF9E5";
const EDGE = "#BFBFBF";
const NOTE = "#595959";

function dress(range: Excel.Range, { look, format, area }: Alike): void {
  if (format !== "General") setFormat(range, format, area.lastRow - area.firstRow + 1);
  const { font, fill, borders } = range.format;
  if (look === "title" || look === "heading") font.bold = true;
  if (look === "title") font.size = 14;
  if (look === "heading") {
    fill.color = HEADING_FILL;
    range.format.wrapText = true;
    borders.getItem("EdgeBottom").color = EDGE;
  }
  if (look === "input") {
    fill.color = INPUT_FILL;
    for (const edge of [
      "EdgeTop",
      "EdgeBottom",
      "EdgeLeft",
      "EdgeRight",
      "InsideHorizontal",
    ] as const) {
      borders.getItem(edge).color = EDGE;
    }
  }
  if (look === "note") {
    font.italic = true;
    font.color = NOTE;
  }
}

function setFormat(range: Excel.Range, format: string, rows: number): void {
  range.numberFormat = Array.from({ length: rows }, () => [format]);
}

async function putCells(sheet: Excel.Worksheet, cells: ColumnCells, writer: Writer): Promise<void> {
  for (const { firstRow, puts } of runsOf(cells)) {
    const range = sheet.getRangeByIndexes(firstRow, cells.column, puts.length, 1);
    if (cells.format !== undefined) setFormat(range, cells.format, puts.length);
    range.formulas = puts.map((put) => [put]);
    await writer.count(puts.length * 2);
  }
}

async function putColumn(sheet: Excel.Worksheet, edit: AddColumn, writer: Writer): Promise<void> {
  const { headerRow, cells, title, width, like } = edit;
  const heading = sheet.getRangeByIndexes(headerRow, cells.column, 1, 1);
  const model = sheet.getRangeByIndexes(headerRow, like, 1, 1);
  model.load(
    "format/wrapText,format/verticalAlignment,format/font/bold,format/font/color,format/fill/color",
  );
  await writer.context.sync();
  heading.values = [[putOf(title)]];
  heading.format.font.bold = model.format.font.bold;
  heading.format.font.color = model.format.font.color;
  // An unfilled cell reads as white; filling it white would hide the grid.
  if (!/^(?:#FFFFFF)?$/i.test(model.format.fill.color))
    heading.format.fill.color = model.format.fill.color;
  heading.format.wrapText = model.format.wrapText;
  heading.format.columnWidth = width * POINTS_A_CHARACTER + POINTS_MORE;
  await putCells(sheet, cells, writer);
}

function putTable(sheet: Excel.Worksheet, { area, name }: AddTable): void {
  sheet.tables.add(areaText(area), true).name = name;
}

function growTable(sheet: Excel.Worksheet, { table, area }: GrowTable): void {
  sheet.tables.getItem(table).resize(areaText(area));
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

function putName(context: Context, { name, refersTo }: AddName): void {
  context.workbook.names.add(name, `=${refersTo}`);
}

function putPrint(sheet: Excel.Worksheet, { titleRows, footer }: PrintSetup): void {
  const { pageLayout } = sheet;
  pageLayout.orientation = "Landscape";
  pageLayout.zoom = { horizontalFitToPages: 1 };
  if (titleRows) pageLayout.setPrintTitleRows(`$${titleRows.first + 1}:$${titleRows.last + 1}`);
  const { defaultForAllPages: pages } = pageLayout.headersFooters;
  pages.leftFooter = footerPart(footer, "L");
  pages.centerFooter = footerPart(footer, "C");
  pages.rightFooter = footerPart(footer, "R");
}

/** A part of a footer in the codes that files keep: &L left, &C middle, &R right. */
function footerPart(footer: string, part: "L" | "C" | "R"): string {
  return new RegExp(`&${part}([^]*?)(?=&[LCR]|$)`).exec(footer)?.[1] ?? "";
}
