import type { OrderSettings } from "../records/records.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { textOf } from "./layout.ts";

/** One setting: how its row is found again, what it does, and what its value may be. */
interface Setting {
  readonly label: string;
  readonly about: string;
}

/** The settings by key; the label finds the row again. */
export const SETTINGS = {
  reportDate: {
    label: "Report date",
    about: "The day on which everything is judged. It never moves by itself: type a date.",
  },
  noticeDays: {
    label: "Notice days",
    about: "A due date within so many days after the report date reads Due soon.",
  },
  weekend: {
    label: "Weekend",
    about:
      "Code as in WORKDAY.INTL: 1 Saturday and Sunday, 7 Friday and Saturday, 11 Sunday only …",
  },
  countsAre: {
    label: "Counts are",
    about:
      "sessions (applications of the contacts) or babies; blank: babies where the counts sheet speaks of them.",
  },
  rescreenFactor: {
    label: "Sessions per baby",
    about: "Turns babies into sessions, repeat screens included; used only when counts are babies.",
  },
  zeroCounts: {
    label: "Zero counts are real",
    about: "yes: a count of 0 is a month without use; no: it is skipped like a blank.",
  },
  lateMonths: {
    label: "Counts late after (months)",
    about:
      "Counts older than this no longer lengthen an interval: the shortest interval applies until new ones come.",
  },
  dayOrder: {
    label: "Text dates read",
    about: "dmy or mdy, where text dates of a column fit both; blank: ask.",
  },
  serviceLevel: {
    label: "Service level",
    about: "Chance, such as 0.95, that the spares last until the next delivery.",
  },
  spares: {
    label: "Spares kept",
    about: "site: a spare of every part at each site; device: one for each device; programme: one.",
  },
  reviewDays: {
    label: "Days between orders",
    about: "How often the shelf is looked at and an order can go out.",
  },
  fiscalStart: {
    label: "Fiscal year starts in month",
    about: "1 to 12; the quarters of the budget begin there.",
  },
  currency: { label: "Currency", about: "Three letters of ISO 4217; XXX where none is meant." },
  priceRise: {
    label: "Price rise a year",
    about: "Share, such as 0.03, by which prices rise on 1 January.",
  },
  budgetLevel: {
    label: "Budget level",
    about: "Chance, such as 0.8, that the upper figure of the budget is enough.",
  },
  freight: { label: "Freight an order", about: "Cost of one delivery to one place." },
  coverage: {
    label: "Births screened",
    about: "Share, such as 0.98, of births that are screened; for a budget reckoned from births.",
  },
  version: { label: "Sheet version", about: "Layout of our sheets; do not change." },
} as const satisfies Record<string, Setting>;

export type SettingKey = keyof typeof SETTINGS;

/** What a programme starts with; the service and budget levels are common practice, no source. */
export const DEFAULT_ORDERS: OrderSettings = {
  serviceLevel: 0.95,
  spares: "site",
  reviewDays: 30,
  fiscalStart: 1,
  currency: "XXX",
  priceRise: 0,
  budgetLevel: 0.8,
  freight: 0,
  coverage: 1,
};

/** Reads one setting: its default where the cell is blank or unusable. */
export type ReadSetting = <T>(key: SettingKey, usual: T, take: (value: CellValue) => T | null) => T;

/** The settings about stock, orders and money. */
export function readOrders(read: ReadSetting): OrderSettings {
  const usual = DEFAULT_ORDERS;
  return {
    serviceLevel: read("serviceLevel", usual.serviceLevel, between(0.5, 0.9999)),
    spares: read("spares", usual.spares, oneOf("site", "device", "programme")),
    reviewDays: read("reviewDays", usual.reviewDays, wholeBetween(0, 366)),
    fiscalStart: read("fiscalStart", usual.fiscalStart, wholeBetween(1, 12)),
    currency: read("currency", usual.currency, currencyCode),
    priceRise: read("priceRise", usual.priceRise, between(-0.5, 1)),
    budgetLevel: read("budgetLevel", usual.budgetLevel, between(0.5, 0.9999)),
    freight: read("freight", usual.freight, between(0, 1e9)),
    coverage: read("coverage", usual.coverage, between(0.01, 1)),
  };
}

/** A number from one bound to another, both included. */
export function between(least: number, most: number): (value: CellValue) => number | null {
  return (value) => (typeof value === "number" && value >= least && value <= most ? value : null);
}

/** A whole number from one bound to another. */
export function wholeBetween(least: number, most: number): (value: CellValue) => number | null {
  const inside = between(least, most);
  return (value) => (Number.isInteger(value) ? inside(value) : null);
}

/** One of some words, whatever their case. */
export function oneOf<const T extends string>(...words: T[]): (value: CellValue) => T | null {
  return (value) => words.find((word) => word === textOf(value).toLowerCase()) ?? null;
}

function currencyCode(value: CellValue): string | null {
  const code = textOf(value).toUpperCase();
  return /^[A-Z]{3}$/.test(code) ? code : null;
}
