import { NO_CURRENCY } from "../../../src/book/records/settings.ts";
import { type Day, day, isDay, isoText } from "../../../src/core/day.ts";
import { InputError } from "../../../src/core/errors.ts";

/** How dates and numbers are shown. */
export interface Show {
  readonly day: (date: Day | null) => string;
  readonly month: (date: Day) => string;
  /** The month without its year, and the year alone: below an axis. */
  readonly shortMonth: (date: Day) => string;
  readonly year: (date: Day) => string;
  readonly number: (amount: number, digits?: number) => string;
  /** Money, with its currency where one is given. It does not break. */
  readonly money: (amount: number | null, currency?: string) => string;
  readonly percent: (share: number, digits?: number) => string;
  /** A sentence of the book with its dates and shares as people read them here; what it quotes stays as it is. */
  readonly said: (sentence: string) => string;
}

/** The serial number of 1970-01-01. */
const EPOCH = 25569;
const DAY_IN_MILLISECONDS = 86_400_000;

const ISO_DATE = /(?<![\w"“'-])\d{4}-\d{2}-\d{2}(?![\w"”'-])/g;
const SHARE = /(?<![\w."“'])(\d+(?:\.\d+)?)%(?!["”'])/g;

/** Dates and numbers in a language and region; British English where they are unknown. */
export function showIn(wanted: string): Show {
  const locale = known(wanted);
  const days = new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeZone: "UTC" });
  const months = new Intl.DateTimeFormat(locale, {
    month: "short",
    year: "numeric",
    timeZone: "UTC",
  });
  const short = new Intl.DateTimeFormat(locale, { month: "short", timeZone: "UTC" });
  const years = new Intl.DateTimeFormat(locale, { year: "numeric", timeZone: "UTC" });
  const numbers = [0, 1, 2].map((digits) => fixed(locale, digits));
  const shares = [0, 1].map((digits) => fixed(locale, digits, "percent"));
  const number = (amount: number, digits = 0): string =>
    numbers[digits]?.format(amount) ?? String(amount);
  const day = (date: Day | null): string => (date === null ? "" : days.format(instant(date)));
  const percent = (share: number, digits = 0): string =>
    shares[digits]?.format(share) ?? String(share);
  return {
    day,
    month: (date) => months.format(instant(date)),
    shortMonth: (date) => short.format(instant(date)),
    year: (date) => years.format(instant(date)),
    number,
    money: (amount, currency = NO_CURRENCY) => {
      if (amount === null) return "";
      return currency === NO_CURRENCY ? number(amount, 2) : `${number(amount, 2)}\u00a0${currency}`;
    },
    percent,
    said: (sentence) =>
      sentence
        .replaceAll(ISO_DATE, (text) => day(dayTyped(text)) || text)
        .replaceAll(SHARE, (text, amount: string) => {
          const digits = amount.split(".")[1]?.length ?? 0;
          return digits > 1 ? text : percent(Number(amount) / 100, digits);
        }),
  };
}

function fixed(
  locale: string,
  digits: number,
  style: "decimal" | "percent" = "decimal",
): Intl.NumberFormat {
  return new Intl.NumberFormat(locale, {
    style,
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  });
}

function known(locale: string): string {
  try {
    return Intl.DateTimeFormat.supportedLocalesOf(locale)[0] ?? "en-GB";
  } catch {
    return "en-GB";
  }
}

function instant(date: Day): number {
  return (date - EPOCH) * DAY_IN_MILLISECONDS;
}

/** A date typed as ISO text, null where it is none. */
export function dayTyped(text: string): Day | null {
  try {
    return text === "" ? null : day(text);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** A date as an input for dates takes it. */
export function typedDay(date: Day | null): string {
  return date === null || !isDay(date) ? "" : isoText(date);
}

/** A number typed into a field, null where it is none. */
export function numberTyped(text: string): number | null {
  const number = Number(text);
  return text.trim() === "" || !Number.isFinite(number) ? null : number;
}
