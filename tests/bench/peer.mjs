// The edit of our file job carried out by a general library, installed for the bench only: the same plan, sheets,
// tables, choices, names, columns and rules, saved. Not the check of what was saved, nor what the plan rests on.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import process from "node:process";

const [from, to, planned, folder] = process.argv.slice(2);
const ExcelJS = createRequire(`${folder}/x.js`)("exceljs");
const { edits } = JSON.parse(readFileSync(planned, "utf8"));

/** A1 of places that count from zero. */
function address(row, column) {
  let letters = "";
  for (let left = column + 1; left > 0; left = Math.floor((left - 1) / 26)) {
    letters = String.fromCharCode(65 + ((left - 1) % 26)) + letters;
  }
  return `${letters}${row + 1}`;
}

const areaText = ({ firstRow, firstColumn, lastRow, lastColumn }) =>
  `${address(firstRow, firstColumn)}:${address(lastRow, lastColumn)}`;

/** A formula in a row, without the sign it may begin with. */
const inRow = (text, row) => text.replace(/^=/, "").replaceAll("{r}", String(row + 1));

const begun = performance.now();
const workbook = new ExcelJS.Workbook();
await workbook.xlsx.readFile(from);
const sheetOf = ({ sheet }) => workbook.getWorksheet(sheet);

const ways = {
  addSheet(edit) {
    const sheet = workbook.addWorksheet(edit.sheet);
    for (const { row, column, value, formula, format, look } of edit.cells) {
      const cell = sheet.getCell(row + 1, column + 1);
      cell.value = formula ? { formula: inRow(formula.text, row), result: value } : value;
      if (format) cell.numFmt = format;
      if (look === "title" || look === "heading") cell.font = { bold: true };
    }
    edit.widths.forEach((width, at) => (sheet.getColumn(at + 1).width = width));
    sheet.views = [{ state: "frozen", ySplit: edit.freezeRows }];
  },
  addTable(edit) {
    const sheet = sheetOf(edit);
    const { firstRow, lastRow, firstColumn, lastColumn } = edit.area;
    const rows = Array.from({ length: lastRow - firstRow }, (_, row) =>
      Array.from(
        { length: lastColumn - firstColumn + 1 },
        (_, column) => sheet.getCell(firstRow + row + 2, firstColumn + column + 1).value,
      ),
    );
    const columns = edit.headings.map((name) => ({ name }));
    sheet.addTable({ name: edit.name, ref: areaText(edit.area).split(":")[0], columns, rows });
  },
  addChoices(edit) {
    const { kind, values, refersTo, from: least, to: most, whole } = edit.choices;
    const formulae =
      kind === "list"
        ? [`"${values.join(",")}"`]
        : kind === "listFrom"
          ? [refersTo]
          : [least, most];
    const type = kind.startsWith("list")
      ? "list"
      : kind === "date"
        ? "date"
        : whole
          ? "whole"
          : "decimal";
    const rule = { type, operator: "between", allowBlank: true, formulae, error: edit.message };
    sheetOf(edit).dataValidations.add(areaText(edit.area), rule);
  },
  addName({ name, refersTo }) {
    // The library keeps names of cells only.
    if (/![$]?[A-Z]+[$]?\d+(?::[$]?[A-Z]+[$]?\d+)?$/.test(refersTo)) {
      workbook.definedNames.add(refersTo.replace(/^=/, ""), name);
    }
  },
  addColumn(edit) {
    const sheet = sheetOf(edit);
    const { column, rows, values, format, formula } = edit.cells;
    sheet.getCell(edit.headerRow + 1, column + 1).value = edit.title;
    sheet.getColumn(column + 1).width = edit.width;
    const first = rows.length === 0 ? "" : address(rows[0], column);
    rows.forEach((row, at) => {
      const value = values[at];
      if (value === null && !formula) return;
      const cell = sheet.getCell(row + 1, column + 1);
      cell.value = !formula
        ? value
        : at === 0
          ? {
              formula: inRow(formula.text, row),
              result: value,
              shareType: "shared",
              ref: `${first}:${address(rows.at(-1), column)}`,
            }
          : { sharedFormula: first, result: value };
      if (format) cell.numFmt = format;
    });
  },
  addRule(edit) {
    const rules = edit.rules.map(({ formula, look }, at) => ({
      type: "expression",
      priority: at + 1,
      formulae: [formula],
      style: {
        font: {
          bold: look.bold === true,
          ...(look.color ? { color: { argb: `FF${look.color}` } } : {}),
        },
        ...(look.fill
          ? { fill: { type: "pattern", pattern: "solid", bgColor: { argb: `FF${look.fill}` } } }
          : {}),
      },
    }));
    sheetOf(edit).addConditionalFormatting({ ref: areaText(edit.area), rules });
  },
  printSetup(edit) {
    sheetOf(edit).pageSetup = { orientation: "landscape", fitToPage: true, fitToHeight: 0 };
  },
};

for (const edit of edits) ways[edit.kind](edit);
await workbook.xlsx.writeFile(to);
const seconds = Math.round(performance.now() - begun) / 1000;
const megabytes = Math.round(process.resourceUsage().maxRSS / 1024);
process.stdout.write(JSON.stringify({ seconds, megabytes }));
