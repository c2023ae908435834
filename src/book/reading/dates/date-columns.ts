import { type DateSystem, type Day, fromSerial, toSerial } from "../../../core/day.ts";
import { hasWordFormat, isBlank, type Page, quoted, textOf } from "../../workbook/cells.ts";
import { columnOrder, dayMeant } from "../../headings/day-order.ts";
import { type DateText, fromBuddhistEra, readDateText } from "../../headings/dates.ts";
import { swappedFaults } from "./swapped-dates.ts";
import { faultLater, withWords } from "../told/told-later.ts";
import type { DayOrder, Language } from "../../languages/language.ts";
import { type CellPlace, fault, mendable } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { cellKey, isCellError } from "../../workbook/snapshot.ts";

/** A column of dates as it stands: true dates only, each other cell with what is wrong with it. */
export interface DateColumn {
  readonly column: number;
  readonly heading: string;
  /** By place in `rows`: the day of a true date, else null. */
  readonly dates: readonly (Day | null)[];
  /** By place in `rows`: why a filled cell gives no date; absent where there is nothing to say. */
  readonly faults: ReadonlyMap<number, Problem>;
  /** By place in `rows`: a true date whose day and month may be swapped, told. */
  readonly swapped: ReadonlyMap<number, Problem>;
}

interface Where {
  readonly column: number;
  readonly heading: string;
  readonly rows: readonly number[];
  readonly stated: DayOrder | null;
  /** What the register is written in, null for English. */
  readonly language: Language | null;
  /** The earlier of two days it may be is the careful one. */
  readonly startsInterval?: boolean;
}

/** Reads a column of dates. Text is never used as a date; what it probably means is given as the fix. */
export function readDates(page: Page, where: Where): DateColumn {
  const { column, heading, rows, stated, language, startsInterval = false } = where;
  const dates: (Day | null)[] = [];
  const texts = new Map<number, DateText | null>();
  const faults = new Map<number, Problem>();
  rows.forEach((row, at) => {
    const value = page.sheet.values[row]?.[column] ?? null;
    const isStruck = page.sheet.struck?.has(cellKey(row, column)) === true;
    const isWorded = startsInterval && hasWordFormat(page, row, column);
    const isPlain = typeof value === "number" && !isStruck && !isWorded;
    const date = isPlain ? fromSerial(value, page.dateSystem) : null;
    dates.push(date);
    if (date !== null || isBlank(value)) return;
    const place = { sheet: page.sheet.name, row, column, heading };
    if (isStruck) faults.set(at, faultLater("struck out", place, "struckDate"));
    else if (isWorded && typeof value === "number")
      faults.set(at, faultLater("words beside date", place, "wordsBeside"));
    else if (isCellError(value)) faults.set(at, cellError(place, value.error));
    else if (typeof value === "number") faults.set(at, noDay(place, value, page.dateSystem));
    else texts.set(at, readDateText(textOf(value)));
  });
  const order = columnOrder(texts.values(), { stated, heading });
  for (const [at, text] of texts) {
    const row = rows[at] ?? 0;
    const written = textOf(page.sheet.values[row]?.[column] ?? null);
    const place = { sheet: page.sheet.name, row, column, heading };
    const usual = text === null || order.mixed ? null : usualDay(text, language, startsInterval);
    const told = fault("text date", place, `${quoted(written)} is text, not a date.`, "");
    const day = startsInterval ? "first" : null;
    const meant = text === null ? null : (dayMeant(text, order.order, day) ?? usual);
    const isOpen = meant === null || fromBuddhistEra(meant) !== null;
    const one = isOpen ? told : mendable(told, toSerial(meant, page.dateSystem), true);
    faults.set(at, withWords(one, "textRead", { text, order, language, usual, startsInterval }));
  }
  const seen = [...texts].map(([at, text]) => ({
    written: textOf(page.sheet.values[rows[at] ?? 0]?.[column] ?? null),
    text,
  }));
  const swapped = swappedFaults(dates, seen, (at) => ({
    place: { sheet: page.sheet.name, row: rows[at] ?? 0, column, heading },
    dateSystem: page.dateSystem,
  }));
  return { column, heading, dates, faults, swapped };
}

/** A cell that shows an error. */
export function cellError(place: CellPlace, error: string): Problem {
  return faultLater("cell error", place, "showsError", error);
}

/** A number that counts no day; eight digits may spell one, as in 20260504. */
function noDay(place: CellPlace, value: number, system: DateSystem): Problem {
  const spelt = readDateText(String(value));
  const day = spelt?.kind === "day" ? spelt.date : null;
  const told = faultLater("date out of range", place, "noDay", value, day);
  return day === null ? told : mendable(told, toSerial(day, system), true);
}

/**
 * What a text means as the people of its language write a day. A copy of an English register may be among
 * them: the language decides only where an interval begins, and only for the earlier of the two days.
 */
function usualDay(text: DateText, language: Language | null, startsInterval: boolean): Day | null {
  if (text.kind !== "numbers" || language === null || !startsInterval) return null;
  const { dmy, mdy } = text;
  const meant = text[language.dayOrder];
  return dmy !== null && mdy !== null && meant === Math.min(dmy, mdy) ? meant : null;
}
