import type { Part } from "./records.ts";
import { eachSetting, type NamedKey } from "./settings.ts";

/** The names of the settings that formulas read, each under the setting's key. */
export const SETTING_NAMES = Object.fromEntries(
  eachSetting().flatMap(([key, { name }]) => (name === undefined ? [] : [[key, name]])),
) as Readonly<Record<NamedKey, string>>;

/** Names every computed column reads; each finds its row by label, so sorting our sheets is harmless. */
export const NAME = {
  ...SETTING_NAMES,
  holidays: "SpareHolidays",
  /** Cells of Holidays that are no date, and the dates without them. */
  unreadHolidays: "SpareHolidaysUnread",
  holidayDates: "SpareHolidayDates",
  siteCodes: "SpareSiteCodes",
  siteWipes: "SpareSiteWipes",
  /** The status words that take a device out, in every language. */
  retiredWords: "SpareRetiredWords",
} as const;

/** The values of a part that formulas read: cells of its row on Parts, and what follows from them. */
export type PartValue =
  "Shortest" | "Longest" | "Budget" | "Light" | "Heavy" | "Vinyl" | "Sound" | "Curve";

/** Name of a part's value, such as SpareSETShortest. */
export function partName(part: Part, value: PartValue): string {
  return `Spare${part.code}${value}`;
}
