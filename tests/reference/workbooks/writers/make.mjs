/** Books of the npm packages; called by make.py with the cells, where to write, and where they are. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import process from "node:process";

const [, , content, out, modules] = process.argv;
const { headings, rows, ages, formula, months, sessions } = JSON.parse(
  readFileSync(content, "utf8"),
);
const require = createRequire(join(modules, "package.json"));
const at = (name) => join(out, `${name}.xlsx`);
const day = (text) => new Date(`${text}T00:00:00Z`);
const aged = (row) => formula.replace("{0}", String(row));

async function exceljs() {
  const { Workbook } = require("exceljs");
  const book = new Workbook();
  const sheet = book.addWorksheet("Equipment", { views: [{ state: "frozen", ySplit: 1 }] });
  sheet.addRow(headings).font = { bold: true };
  rows.forEach(([device, site, set, cushion, status], index) => {
    const result = ages[index];
    sheet.addRow([
      device,
      site,
      day(set),
      day(cushion),
      status,
      { formula: aged(index + 2), result },
    ]);
  });
  for (const letter of ["C", "D"]) sheet.getColumn(letter).numFmt = "dd.mm.yyyy";
  sheet.getColumn("A").width = 14;
  sheet.getCell("B2").note = "Moved in May.";
  sheet.autoFilter = "A1:F10";
  sheet.getCell("E2").dataValidation = { type: "list", formulae: ['"In service,Retired"'] };
  sheet.addConditionalFormatting({
    ref: "F2:F10",
    rules: [
      {
        type: "cellIs",
        operator: "greaterThan",
        formulae: ["0.4"],
        style: { font: { bold: true } },
      },
    ],
  });
  const counts = book.addWorksheet("Sessions");
  counts.addRow(["Device", ...months.map(day)]);
  for (const row of sessions) counts.addRow(row);
  counts.getRow(1).numFmt = "mmm yyyy";
  await book.xlsx.writeFile(at("exceljs"));
}

function plain() {
  const { utils, writeFile } = require("xlsx");
  const book = utils.book_new();
  const lines = rows.map(([device, site, set, cushion, status], index) => [
    ...[
      device,
      site,
      day(set),
      day(cushion),
      status,
      { t: "n", v: ages[index], f: aged(index + 2) },
    ],
  ]);
  const sheet = utils.aoa_to_sheet([headings, ...lines], { dateNF: "yyyy-mm-dd" });
  sheet["!cols"] = headings.map(() => ({ wch: 18 }));
  sheet["!autofilter"] = { ref: "A1:F10" };
  utils.book_append_sheet(book, sheet, "Equipment");
  const counts = utils.aoa_to_sheet([["Device", ...months.map(day)], ...sessions], {
    dateNF: "mmm-yy",
  });
  utils.book_append_sheet(book, counts, "Sessions");
  writeFile(book, at("xlsx"), { cellDates: false, compression: true });
}

async function populate() {
  const book = await require("xlsx-populate").fromBlankAsync();
  const sheet = book.sheet(0).name("Equipment");
  sheet.cell("A1").value([headings]).style({ bold: true });
  rows.forEach(([device, site, set, cushion, status], index) => {
    const row = index + 2;
    sheet.cell(`A${row}`).value([[device, site, day(set), day(cushion), status]]);
    for (const letter of ["C", "D"])
      sheet.cell(`${letter}${row}`).style("numberFormat", "d/m/yyyy");
    sheet.cell(`F${row}`).formula(aged(row));
  });
  sheet.column("C").width(22);
  sheet.cell("E2").dataValidation({ type: "list", formula1: '"In service,Retired"' });
  const counts = book.addSheet("Sessions");
  counts.cell("A1").value([["Device", ...months.map(day)], ...sessions]);
  counts.range("B1:G1").style("numberFormat", "mmm yy");
  await book.toFileAsync(at("xlsx-populate"));
}

async function small() {
  const write = require("write-excel-file/node");
  const writeXlsxFile = write.default ?? write;
  const date = (text, format) => ({ type: Date, value: day(text), format });
  const equipment = [
    headings.map((value) => ({ value, fontWeight: "bold" })),
    ...rows.map(([device, site, set, cushion, status], index) => [
      { value: device },
      { value: site },
      date(set, "dd/mm/yyyy"),
      date(cushion, "dd/mm/yyyy"),
      { value: status },
      { type: "Formula", value: `=${aged(index + 2)}` },
    ]),
  ];
  const counts = [
    [{ value: "Device" }, ...months.map((text) => date(text, "mmm yyyy"))],
    ...sessions.map((row) => row.map((value) => ({ value }))),
  ];
  const sheets = [
    { data: equipment, sheet: "Equipment", stickyRowsCount: 1 },
    { data: counts, sheet: "Sessions" },
  ];
  await writeXlsxFile(sheets).toFile(at("write-excel-file"));
}

for (const [name, make] of Object.entries({
  exceljs,
  xlsx: plain,
  "xlsx-populate": populate,
  "write-excel-file": small,
})) {
  try {
    await make();
    console.log(`${name}: made`);
  } catch (error) {
    console.log(`${name}: left out, ${error.message.split("\n")[0]}`);
  }
}
