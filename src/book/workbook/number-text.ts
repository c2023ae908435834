import { keyOf } from "./cells.ts";

/** Words that may stand behind a number, with what one of them is worth. */
export type Units = Readonly<Record<string, number>>;

export const MONTH_UNITS: Units = { m: 1, mo: 1, month: 1, months: 1, year: 12, years: 12 };
/** A month is taken with its most days: what is counted in days here is careful when it is long. */
export const DAY_UNITS: Units = {
  d: 1,
  day: 1,
  days: 1,
  week: 7,
  weeks: 7,
  month: 31,
  months: 31,
};
export const USE_UNITS: Units = Object.fromEntries(
  ["", "use", "uses", "session", "sessions"].flatMap((word) =>
    ["", "a month", "per month", "/month", "/ month"].map((span) => [`${word} ${span}`.trim(), 1]),
  ),
);
export const WEEK_UNITS: Units = Object.fromEntries(
  [
    "day",
    "days",
    "time",
    "times",
    "a week",
    "per week",
    "/week",
    "times a week",
    "days a week",
  ].map((word) => [word, 1]),
);
export const PIECE_UNITS: Units = Object.fromEntries(
  ["set", "sets", "piece", "pieces", "pc", "pcs", "unit", "units", "ea"].map((word) => [word, 1]),
);
export const SHARE_UNITS: Units = { "%": 0.01, "per cent": 0.01, percent: 0.01 };

const NUMBER = /^([-+−]?)\s*(\d+)(?:([.,])(\d+))?\s*(.*)$/u;
const CURRENCY = /^(?:\p{Sc}|[a-z]{3}(?= |\d))\s*|\s*(?:\p{Sc}|(?<=\d| )[a-z]{3})$/gu;

/**
 * The number a text surely means: digits, at most one decimal mark, and a unit of its own behind them.
 * Null for anything that can be read in two ways, such as "1,500", "3-4" or "about 6".
 */
export function numberMeant(text: string, units: Units = {}): number | null {
  const [, sign = "", whole = "", mark = "", decimals = "", rest = ""] =
    NUMBER.exec(keyOf(text)) ?? [];
  if (whole === "" || isGrouped(whole, mark, decimals)) return null;
  const worth = rest === "" ? 1 : units[rest.replace(/\.$/, "")];
  if (worth === undefined) return null;
  const number = Number(`${whole}.${decimals || "0"}`);
  return tidy((sign === "" || sign === "+" ? number : -number) * worth);
}

/** The amount of money a text surely means, with or without its currency. */
export function moneyMeant(text: string): number | null {
  return numberMeant(keyOf(text).replaceAll(CURRENCY, ""));
}

/** Every number that a text may mean: for the careful side to choose from. */
export function numbersIn(text: string): number[] {
  return [...keyOf(text).matchAll(/\d+(?:[.,]\d+)*/g)].flatMap(([found]) => {
    const plain = Number(found.replace(",", "."));
    return [plain, Number(found.replaceAll(/[.,]/g, ""))].filter(Number.isFinite);
  });
}

/** Three digits behind a mark may be thousands; behind a nought they are decimals. */
function isGrouped(whole: string, mark: string, decimals: string): boolean {
  return mark !== "" && decimals.length === 3 && whole.length <= 3 && Number(whole) !== 0;
}

/** 95 times 0.01 is 0.95, and nought has no sign. */
function tidy(number: number): number {
  return Math.round(number * 1e9) / 1e9 + 0;
}
