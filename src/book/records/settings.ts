import { type Day, LAST_DAY } from "../../core/day.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { textOf } from "../workbook/cells.ts";
import { DAY_UNITS, SHARE_UNITS } from "../workbook/number-text.ts";
import { choice, date, numeric, type Setting, whole, yesNo } from "./setting.ts";

/**
 * Days off where the weekend cannot be read: Thursday to Sunday, all days that are off in one of the usual
 * weekends of two days (common practice, no source). Going back over more days off is earlier.
 */
const CAREFUL_WEEKEND = "0001111";

/** The code that stands for no currency. Source: ISO 4217. */
export const NO_CURRENCY = "XXX";

/**
 * The programme's choices, each declared once: its row on Setup, its type, its reader and writer, its
 * default, what is careful where its cell cannot be used, and the name that formulas read all follow from here. Where a default names no source it is
 * common practice.
 */
export const SETTINGS = {
  reportDate: {
    ...date({
      label: "Report date",
      usual: 0 as Day,
      careful: LAST_DAY,
    }),
    name: "SpareReportDate",
  },
  noticeDays: {
    ...whole({
      label: "Notice days",
      usual: 14,
      careful: 3660,
      from: 0,
      to: 3660,
    }),
    name: "SpareNoticeDays",
  },
  weekend: {
    label: "Weekend",
    usual: 1,
    take: weekendCode,
    must: "a code of WORKDAY.INTL: 1 to 7, 11 to 17, or seven digits 0 and 1 from Monday",
    careful: () => CAREFUL_WEEKEND,
    taken: takenWeekend,
    cell: (value) => value,
    name: "SpareWeekend",
  } satisfies Setting<number | string>,
  countsAre: choice({
    label: "Counts are",
    usual: null,
    words: ["sessions", "babies"],
    careful: "babies",
  }),
  rescreenFactor: numeric({
    label: "Sessions per baby",
    usual: 1.07,
    from: 1,
    to: 1000,
    careful: (hints) => Math.max(1.07, ...hints),
    money: true,
  }),
  zeroCounts: yesNo({
    label: "Zero counts are real",
    usual: false,
    careful: false,
  }),
  lateMonths: {
    ...whole({
      label: "Counts late after (months)",
      usual: 2,
      from: 0,
      to: 120,
      careful: 0,
    }),
    name: "SpareLateMonths",
  },
  dayOrder: choice({
    label: "Text dates read",
    usual: null,
    words: ["dmy", "mdy"],
    careful: null,
  }),
  serviceLevel: numeric({
    label: "Service level",
    usual: 0.95,
    from: 0.5,
    to: 0.9999,
    units: SHARE_UNITS,
    careful: 0.9999,
  }),
  spares: choice({
    label: "Spares kept",
    usual: "site",
    words: ["site", "device", "programme"],
    careful: "device",
  }),
  reviewDays: whole({
    label: "Days between orders",
    usual: 30,
    from: 0,
    to: 366,
    units: DAY_UNITS,
    careful: (hints) => Math.max(30, ...hints),
  }),
  fiscalStart: whole({
    label: "Fiscal year starts in month",
    usual: 1,
    from: 1,
    to: 12,
    careful: 1,
    money: true,
  }),
  currency: {
    label: "Currency",
    usual: NO_CURRENCY,
    take: currencyCode,
    must: "a three-letter code",
    careful: () => NO_CURRENCY,
    cell: (value) => value,
  } satisfies Setting<string>,
  priceRise: numeric({
    label: "Price rise a year",
    usual: 0,
    from: -0.5,
    to: 1,
    units: SHARE_UNITS,
    careful: (hints) => Math.max(0, ...hints),
    money: true,
  }),
  budgetLevel: numeric({
    label: "Budget level",
    usual: 0.8,
    from: 0.5,
    to: 0.9999,
    units: SHARE_UNITS,
    careful: 0.9999,
  }),
  freight: numeric({
    label: "Freight an order",
    usual: 0,
    from: 0,
    to: 1e9,
    careful: (hints) => Math.max(0, ...hints),
    money: true,
  }),
  coverage: numeric({
    label: "Births screened",
    usual: 1,
    from: 0.01,
    to: 1,
    units: SHARE_UNITS,
    careful: 1,
  }),
  positions: choice({
    label: "Dates of a part",
    usual: "each",
    words: ["each", "earliest"],
    careful: "each",
    later: true,
  }),
} as const;

type Declared = typeof SETTINGS;
export type SettingKey = keyof Declared;
type ValueOf<S> = S extends Setting<infer T> ? T : never;

/** The settings that formulas read. */
export type NamedKey = {
  [K in SettingKey]: Declared[K] extends { readonly name: string } ? K : never;
}[SettingKey];

/** Choices of the programme: the Setup sheet. */
export type Settings = { readonly [K in SettingKey]: ValueOf<Declared[K]> } & {
  /** What the counts are taken for: as said, or as the counts sheet speaks. */
  readonly countsBabies: boolean;
  /** Settings whose cell cannot be used; they have their careful value. */
  readonly doubted: ReadonlySet<SettingKey>;
  /** Sheet and heading choices: key such as "register", "counts", "column device"; value as written. */
  readonly matches: ReadonlyMap<string, string>;
};

/** The day that rows are judged on; without one that can be read, no date can be given. */
export function judgedOn({ doubted, reportDate }: Settings): Day {
  return doubted.has("reportDate") ? LAST_DAY : reportDate;
}

/** Every setting with its key, in the order of its row on Setup. */
export function eachSetting(): readonly (readonly [SettingKey, Setting<unknown>])[] {
  return Object.entries(SETTINGS) as unknown as readonly (readonly [
    SettingKey,
    Setting<unknown>,
  ])[];
}

/** The settings a programme starts with. */
export function defaultSettings(reportDate: Day): Settings {
  const usual = Object.fromEntries(eachSetting().map(([key, one]) => [key, one.usual]));
  return {
    ...(usual as { readonly [K in SettingKey]: ValueOf<Declared[K]> }),
    reportDate,
    countsBabies: false,
    doubted: new Set(),
    matches: new Map(),
  };
}

const WEEKEND_CODES = [1, 2, 3, 4, 5, 6, 7, 11, 12, 13, 14, 15, 16, 17] as const;

/** A code, also one typed as text; or the seven digits. */
function weekendCode(value: CellValue): number | string | null {
  const code = WEEKEND_CODES.find((one) => one === value || String(one) === value);
  if (code !== undefined) return code;
  return typeof value === "string" && /^(?!1{7})[01]{7}$/.test(value) ? value : null;
}

/** The same as a formula. */
function takenWeekend(cell: string): string {
  const code = (of: string): string =>
    `SUMPRODUCT((${of}={${WEEKEND_CODES.join(",")}})*{${WEEKEND_CODES.join(",")}})`;
  const text = `SUMPRODUCT((${cell}={${WEEKEND_CODES.map((one) => `"${one}"`).join(",")}})*{${WEEKEND_CODES.join(",")}})`;
  const digits = `AND(LEN(${cell})=7,LEN(SUBSTITUTE(SUBSTITUTE(${cell},"0",""),"1",""))=0,${cell}<>"1111111")`;
  return (
    `IF(ISLOGICAL(${cell}),NA(),IF(ISNUMBER(${cell}),IF(${code(cell)}>0,${cell},NA()),` +
    `IF(${digits},${cell},IF(${text}>0,${text},NA()))))`
  );
}

function currencyCode(value: CellValue): string | null {
  const code = textOf(value).toUpperCase();
  return /^[A-Z]{3}$/.test(code) ? code : null;
}
