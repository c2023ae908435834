import type { PrintSetup } from "../../src/book/workbook/plan.ts";
import { columnLetters } from "../../src/book/workbook/snapshot.ts";

/** The same as in files. */
const PRINT_MARGINS = { left: 0.4, right: 0.4, top: 0.5, bottom: 0.6, header: 0.3, footer: 0.3 };

/** Sets a sheet up for paper: its side, pages, headings on each page, a footer. */
export function putPrint(sheet: Excel.Worksheet, edit: PrintSetup): void {
  const { titleRows, titleColumns, footer } = edit;
  const { pageLayout } = sheet;
  pageLayout.orientation = edit.orientation === "portrait" ? "Portrait" : "Landscape";
  pageLayout.zoom = {
    horizontalFitToPages: edit.pagesWide,
    ...(edit.pagesTall === undefined ? {} : { verticalFitToPages: edit.pagesTall }),
  };
  pageLayout.setPrintMargins("Inches", PRINT_MARGINS);
  if (titleColumns > 0) pageLayout.setPrintTitleColumns(`$A:$${columnLetters(titleColumns - 1)}`);
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
