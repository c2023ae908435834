import type { Part } from "./records.ts";
import { SETTINGS } from "./settings.ts";

/** Names every computed column reads; each finds its row by label, so sorting our sheets is harmless. */
export const NAME = {
  reportDate: SETTINGS.reportDate.name,
  noticeDays: SETTINGS.noticeDays.name,
  weekend: SETTINGS.weekend.name,
  lateMonths: SETTINGS.lateMonths.name,
  holidays: "SpareHolidays",
  siteCodes: "SpareSiteCodes",
  siteWipes: "SpareSiteWipes",
} as const;

/** The values of a part that formulas read: cells of its row on Parts, and what follows from them. */
export type PartValue =
  "Shortest" | "Longest" | "Budget" | "Light" | "Heavy" | "Vinyl" | "Sound" | "Curve";

/** Name of a part's value, such as SpareSETShortest. */
export function partName(part: Part, value: PartValue): string {
  return `Spare${part.code}${value}`;
}
