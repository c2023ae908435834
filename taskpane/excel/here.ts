import type { ExcelHere } from "./host.ts";

/** What the Excel at hand is; `shift` is the days its workbook counts behind those of 1900. */
export function excelHere(shift: number): ExcelHere {
  const { requirements, contentLanguage, platform } = Office.context;
  return {
    locale: contentLanguage,
    live: shift === 0,
    groupsUndo: requirements.isSetSupported("ExcelApi", "1.20"),
    report: async () => (await import("./report.ts")).faultReport(),
    ...(String(platform) === "Mac" ? { savesFiles: false } : {}),
    ...(requirements.isSetSupported("SharedRuntime", "1.1") ? { startup } : {}),
  };
}

/** Whether the add-in starts with this workbook, so that its functions answer at once. */
const startup = {
  async get(): Promise<boolean> {
    return (await Office.addin.getStartupBehavior()) === Office.StartupBehavior.load;
  },
  async set(on: boolean): Promise<void> {
    const { load, none } = Office.StartupBehavior;
    await Office.addin.setStartupBehavior(on ? load : none);
  },
};
