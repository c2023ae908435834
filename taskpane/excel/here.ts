import type { ExcelHere } from "./host.ts";

/** What the Excel at hand is; `shift` is the days its workbook counts behind those of 1900. */
export function excelHere(shift: number): ExcelHere {
  const { requirements, contentLanguage } = Office.context;
  return {
    locale: contentLanguage,
    live: shift === 0,
    groupsUndo: requirements.isSetSupported("ExcelApi", "1.20"),
  };
}
