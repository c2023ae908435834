// A lesser edit by a general library, installed for the bench only: three columns, save. No rules, no
// names, no new sheets, no checks.
import { createRequire } from "node:module";
import process from "node:process";

const [from, to, sheetName, folder] = process.argv.slice(2);
const ExcelJS = createRequire(`${folder}/x.js`)("exceljs");
const begun = performance.now();
const workbook = new ExcelJS.Workbook();
await workbook.xlsx.readFile(from);
const sheet = workbook.getWorksheet(sheetName);
const width = sheet.columnCount;
sheet.eachRow((row, number) => {
  if (number < 4) return;
  row.getCell(width + 1).value = { formula: `EDATE(E${number},3)`, result: 46000 };
  row.getCell(width + 1).numFmt = "yyyy-mm-dd";
  row.getCell(width + 2).value = { formula: `D${number}*2`, result: 1 };
  row.getCell(width + 3).value = {
    formula: `IF(D${number}>9,"Overdue","Not due")`,
    result: "Overdue",
  };
});
await workbook.xlsx.writeFile(to);
const seconds = Math.round(performance.now() - begun) / 1000;
const megabytes = Math.round(process.resourceUsage().maxRSS / 1024);
process.stdout.write(JSON.stringify({ seconds, megabytes }));
