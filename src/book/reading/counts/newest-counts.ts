import type { Day } from "../../../core/day.ts";
import { isBlank } from "../../workbook/cells.ts";
import { monthNamed } from "../../headings/dates.ts";
import { wordsIn } from "../../languages/words-of.ts";
import type { CountSheet } from "./count-sheets.ts";

/** Why the newest counts of a sheet may not be what they seem: newer ones were not read, or they are those of a month before, or their month is out of order. */
export type Newer = "newest" | "copied" | "order";

type Wide = Extract<CountSheet, { readonly shape: "wide" }>;

const FEWEST = 3;
const NEARLY_ALL = 0.8;

/**
 * Whether beside the newest month stand numbers like those of a month, for nearly all devices, under a heading of which
 * the month cannot be read: "June", "06/26", "W26", an error, none. They would be newer than all that is counted.
 * Sums, and what is headed as something else, are none.
 */
function hasUnreadMonth({ page, heading, months }: Wide, rows: readonly number[]): boolean {
  const [first, ...others] = months;
  if (first === undefined || rows.length < FEWEST) return false;
  const newest = others.reduce((last, one) => (one.date > last.date ? one : last), first);
  const isLast = months.every(({ column }) => column <= newest.column);
  const column = newest.column + (isLast ? 1 : -1);
  if (!mayBeMonth(heading.texts[column] ?? "")) return false;
  const alike = rows.filter((row) => {
    const cells = page.sheet.values[row] ?? [];
    const value = cells[column];
    const most = Math.max(0, ...months.map((one) => numberIn(cells[one.column])));
    return typeof value === "number" && Number.isInteger(value) && value >= 0 && value <= 2 * most;
  });
  return alike.length >= rows.length * NEARLY_ALL;
}

/** Whether the counts of a device stand one column too far: the first month has none, and one stands beyond the last. */
function hasMovedRow({ page, heading, months }: Wide, rows: readonly number[]): boolean {
  const columns = months.map(({ column }) => column);
  const [first, beyond] = [Math.min(...columns), Math.max(...columns) + 1];
  if ((heading.texts[beyond] ?? "") !== "") return false;
  return rows.some((row) => {
    const cells = page.sheet.values[row] ?? [];
    const value = cells[beyond];
    const counts = columns.slice(1).map((column) => cells[column]);
    const sum = counts.reduce<number>((all, one) => all + numberIn(one), 0);
    return (
      isBlank(cells[first] ?? null) &&
      counts.every((one) => typeof one === "number") &&
      typeof value === "number" &&
      Number.isInteger(value) &&
      // A sum or a mean of the months is no month.
      value !== sum &&
      Math.abs(value * counts.length - sum) > counts.length
    );
  });
}

/**
 * What puts the newest counts of a sheet in doubt.
 *
 * @param sheet Counts with a column for each month.
 * @param rows The rows of its devices.
 * @returns The reason; null where there is none.
 */
export function newerIn(sheet: Wide, rows: readonly number[]): Newer | null {
  if (hasUnreadMonth(sheet, rows) || hasMovedRow(sheet, rows)) return "newest";
  return isCopied(sheet, rows) ? "copied" : null;
}

/** A row of a list of counts. */
interface Row {
  readonly month: Day;
  readonly key: string;
}

/**
 * Whether a list that goes by months, up or down, has at its newest end once an earlier month for most of its devices: the
 * newest ones, with a month that was not changed or mistyped.
 */
export function isOutOfOrder(rows: readonly Row[]): boolean {
  const [ups, downs]: [number[], number[]] = [[], []];
  rows.forEach(({ month }, at) => {
    const before = rows[at - 1]?.month ?? month;
    if (month !== before) (month > before ? ups : downs).push(at);
  });
  const rises = ups.length > downs.length;
  const [at, another] = rises ? downs : ups;
  if (at === undefined || another !== undefined || ups.length + downs.length < FEWEST) return false;
  const parts = [rows.slice(0, at), rows.slice(at)] as const;
  const [main, end] = rises ? parts : [parts[1], parts[0]];
  const keys = new Set(main.map(({ key }) => key));
  const again = new Set(end.flatMap(({ key }) => (keys.has(key) ? key : [])));
  const isOneMonth = end.every(({ month }) => month === end[0]?.month);
  return isOneMonth && again.size > 1 && again.size * 2 >= keys.size;
}

/** Whether all devices have the counts of the month before once more: a column that was copied to be typed over. */
function isCopied({ page, months }: Wide, rows: readonly number[]): boolean {
  const [newest, before] = [...months].sort((one, other) => other.date - one.date);
  if (newest === undefined || before === undefined) return false;
  const pairs = rows.flatMap((row) => {
    const cells = page.sheet.values[row] ?? [];
    const pair = [cells[newest.column], cells[before.column]] as const;
    return pair.every((cell) => typeof cell === "number") ? [pair] : [];
  });
  const numbers = new Set(pairs.map(([last]) => last));
  return numbers.size >= MANY && pairs.every(([last, earlier]) => last === earlier);
}

/** Numbers that are no chance when all of them stand twice. */
const MANY = 4;

function numberIn(value: unknown): number {
  return typeof value === "number" ? value : 0;
}

/** A heading that is blank, shows an error, or has a number or the name of a month in it. */
function mayBeMonth(heading: string): boolean {
  const words = wordsIn(heading);
  return (
    heading.startsWith("#") ||
    words.every((word) => /\d/u.test(word) || monthNamed(word) !== undefined) ||
    words.some((word) => monthNamed(word) !== undefined)
  );
}
