import type { Day } from "../../core/day.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { textOf } from "../workbook/cells.ts";
import { choice, date, numeric, type Setting, whole, yesNo } from "./setting.ts";

/**
 * The programme's choices, each declared once: its row on Setup, its type, its reader and writer, its
 * default and the name that formulas read all follow from here. Where a default names no source it is
 * common practice.
 */
export const SETTINGS = {
  reportDate: {
    ...date({
      label: "Report date",
      about: "The day as of which everything is judged. It never moves by itself: type a date.",
      usual: 0 as Day,
    }),
    name: "SpareReportDate",
  },
  noticeDays: {
    ...whole({
      label: "Notice days",
      about: "A due date within this many days after the report date is shown as Due soon.",
      usual: 14,
      from: 0,
      to: 3660,
    }),
    name: "SpareNoticeDays",
  },
  weekend: {
    label: "Weekend",
    about:
      "Code as in WORKDAY.INTL: 1 Saturday and Sunday, 7 Friday and Saturday, 11 Sunday only …",
    usual: 1,
    take: weekendCode,
    cell: (value) => value,
    name: "SpareWeekend",
  } satisfies Setting<number | string>,
  countsAre: choice({
    label: "Counts are",
    about:
      "sessions (applications of the contacts) or babies; if blank, babies where the counts sheet mentions them.",
    usual: null,
    words: ["sessions", "babies"],
  }),
  rescreenFactor: numeric({
    label: "Sessions per baby",
    about:
      "Converts babies into sessions, repeat screens included; used only when the counts are babies.",
    usual: 1.07,
    from: 1,
    to: 1000,
  }),
  zeroCounts: yesNo({
    label: "Zero counts are real",
    about: "yes: a count of 0 is a month without use; no: it is skipped like a blank.",
    usual: false,
  }),
  lateMonths: {
    ...whole({
      label: "Counts late after (months)",
      about:
        "Counts older than this no longer lengthen an interval: the shortest interval applies until newer counts arrive.",
      usual: 2,
      from: 0,
      to: 120,
    }),
    name: "SpareLateMonths",
  },
  dayOrder: choice({
    label: "Text dates read",
    about: "dmy or mdy, for a column whose text dates fit both; if blank, you are asked.",
    usual: null,
    words: ["dmy", "mdy"],
  }),
  serviceLevel: numeric({
    label: "Service level",
    about: "Chance, such as 0.95, that the spares last until the next delivery.",
    usual: 0.95,
    from: 0.5,
    to: 0.9999,
  }),
  spares: choice({
    label: "Spares kept",
    about: "site: a spare of every part at each site; device: one for each device; programme: one.",
    usual: "site",
    words: ["site", "device", "programme"],
  }),
  reviewDays: whole({
    label: "Days between orders",
    about: "How often the shelf is reviewed and an order can go out.",
    usual: 30,
    from: 0,
    to: 366,
  }),
  fiscalStart: whole({
    label: "Fiscal year starts in month",
    about: "1 to 12; the first quarter of the budget begins with this month.",
    usual: 1,
    from: 1,
    to: 12,
  }),
  currency: {
    label: "Currency",
    about: "Three-letter ISO 4217 code; XXX for no currency.",
    usual: "XXX",
    take: currencyCode,
    cell: (value) => value,
  } satisfies Setting<string>,
  priceRise: numeric({
    label: "Price rise a year",
    about: "Share, such as 0.03, by which prices rise on 1 January.",
    usual: 0,
    from: -0.5,
    to: 1,
  }),
  budgetLevel: numeric({
    label: "Budget level",
    about: "Chance, such as 0.8, that the upper figure of the budget is enough.",
    usual: 0.8,
    from: 0.5,
    to: 0.9999,
  }),
  freight: numeric({
    label: "Freight an order",
    about: "Cost of one delivery to one place.",
    usual: 0,
    from: 0,
    to: 1e9,
  }),
  coverage: numeric({
    label: "Births screened",
    about: "Share of births that are screened, such as 0.98; for a budget calculated from births.",
    usual: 1,
    from: 0.01,
    to: 1,
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
  /** Sheet and heading choices: key such as "register", "counts", "column device"; value as written. */
  readonly matches: ReadonlyMap<string, string>;
};

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
    matches: new Map(),
  };
}

function weekendCode(value: CellValue): number | string | null {
  if (typeof value === "string") return /^(?!1{7})[01]{7}$/.test(value) ? value : null;
  const isCode =
    typeof value === "number" &&
    Number.isInteger(value) &&
    ((value >= 1 && value <= 7) || (value >= 11 && value <= 17));
  return isCode ? value : null;
}

function currencyCode(value: CellValue): string | null {
  const code = textOf(value).toUpperCase();
  return /^[A-Z]{3}$/.test(code) ? code : null;
}
