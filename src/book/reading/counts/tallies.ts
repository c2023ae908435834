import { civilDate, type Day, monthStart } from "../../../core/day.ts";
import { evidenceOf } from "../../headings/column-profile.ts";
import { monthNamed, readDateText } from "../../headings/dates.ts";
import { type HeadingRows, headingCandidates } from "../../headings/headings.ts";
import { areWeeks, monthMeant, monthsIn } from "../../headings/months.ts";
import { saysOf } from "../../headings/other-counts.ts";
import { phraseOf, wordsIn } from "../../languages/words-of.ts";
import { fault, listed, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import {
  identifierAt,
  keyOf,
  lastFilledRow,
  type Page,
  quoted,
  trueDate,
} from "../../workbook/cells.ts";

type IsDevice = (key: string) => boolean;

/** Fewest rows, or columns, of a kind. */
const ENOUGH = 2;
const MOSTLY = 0.6;
/** So many weeks are a row of them. */
const WEEKS = 3;
/** A week as people and ISO 8601 write it. */
export const WEEK = /^(?:\d{4}-?)?(?:w|wk|week|kw|s)\.?\s*\d{1,2}(?:[-/ ]\d{2,4})?$/i;
/** Headings named in the sentence; the rest are counted. */
const NAMED = 6;
/** Headings 1 to 31 of a sheet of days. */
const DAYS = 20;
/** Rows of a device in a month from which on each of them may be a use. */
const MANY = 4;

const BY_MONTH =
  "To have uses counted, add them up by month: a row for each device, a column for each month with its year.";

/**
 * Numbers of the register's devices that are of other times than months, or stand the other way round: by day, a row for
 * each test, months below each other with a column for each device. They are in no figure, and nobody would miss them.
 */
export function tallies(pages: readonly Page[], isDevice: IsDevice): Problem[] {
  const told = pages.flatMap((page) => {
    for (const heading of headingCandidates(page.sheet)) {
      const said = turnedIn(page, heading, isDevice) ?? daysIn(page, heading, isDevice);
      if (said !== null) return [tallyOf(page, said)];
    }
    const said = headingCandidates(page.sheet).some((one) => isOfTests(page, one, isDevice));
    return said ? [tallyOf(page, ["has a row for each use of a device", BY_MONTH])] : [];
  });
  // Of a sheet for each month one is a fault, and stands for all.
  return told.map((one, at) =>
    told.findIndex(({ fix }) => fix === one.fix) < at ? { ...one, severity: "notice" } : one,
  );
}

type Said = readonly [what: string, fix: string];

function tallyOf({ sheet: { name } }: Page, [what, fix]: Said): Problem {
  const cause = `${name} ${what}: they are not used, so the shortest intervals apply.`;
  return fault("counts not read", wholeSheet(name), cause, fix);
}

/** A column for each device, and a row for each month or day. */
function turnedIn(page: Page, heading: HeadingRows, isDevice: IsDevice): Said | null {
  const devices = heading.texts.flatMap((text, at) => (isDevice(keyOf(text)) ? at : []));
  if (devices.length < ENOUGH) return null;
  const numbers = devices.filter((column) => isOf("numbers", page, heading, column));
  if (numbers.length < devices.length * MOSTLY) return null;
  for (const [column] of heading.texts.entries()) {
    const days = daysBelow(page, heading, column);
    if (devices.includes(column) || days.length < ENOUGH) continue;
    const months = new Set(days.map(monthStart));
    return months.size === days.length
      ? [
          "has numbers with a column for each device and a row for each month",
          "To have uses counted, turn it round (copy it, then paste it transposed): a row for each device, a column for each month.",
        ]
      : ["has numbers by day, with a column for each device", BY_MONTH];
  }
  return null;
}

/** A row for each device, and a column for each day: numbered, or by its date. */
function daysIn(page: Page, heading: HeadingRows, isDevice: IsDevice): Said | null {
  if (deviceColumn(page, heading, isDevice) === null) return null;
  const numbered = heading.texts.filter((text) => /^(?:[1-9]|[12]\d|3[01])\.?$/.test(text.trim()));
  const dated = monthsIn(page, heading).map(({ date }) => date);
  const isByDay =
    new Set(numbered).size >= DAYS ||
    (dated.length > ENOUGH &&
      !areWeeks(dated) &&
      new Set(dated.map(monthStart)).size * 2 < dated.length);
  if (isByDay) return ["has numbers by day", BY_MONTH];
  const parts = partsOfMonths(page, heading);
  return parts.length < ENOUGH ? longTimesIn(page, heading) : noMonths(parts);
}

/** Headings of numbers that name a month and are not read as one: two months, half of one, or one of two counts in it. */
export function partsOfMonths(page: Page, heading: HeadingRows): string[] {
  const read = new Set(monthsIn(page, heading).map(({ column }) => column));
  return heading.texts.filter((text, column) => {
    const names = wordsIn(text).filter((word) => monthNamed(word) !== undefined);
    const namesMonth = names.length > 0 || /20\d{2}[-/.](?:0\d|1[0-2])(?!\d)/.test(text);
    return (
      !read.has(column) && namesMonth && /\d/.test(text) && isOf("numbers", page, heading, column)
    );
  });
}

/** Headings that name a quarter, a half, a year, a week or a year so far, in folded phrases of eight languages. */
const LONG_TIME = new RegExp(
  `^(?:${[
    "(?:20\\d\\d )?(?:[qth] ?[1-4]|[1-4] ?[qth])(?: (?:20)?\\d\\d)?|(?:20\\d\\d )?(?:i{1,3}|iv) (?:kw|kwartal|trim\\w*)\\.?(?: (?:20)?\\d\\d)?",
    "(?:20\\d\\d )?(?:[1-4]|first|second|third|fourth|last|this)(?:st|nd|rd|th|er|e|eme|o|a)? ?(?:quarter|quartal|halbjahr|half|half year|trimestre|semestre|kwartaal|halfjaar|kwartal|polrocze)(?: (?:20)?\\d\\d)?",
    "(?:fy|gj|ex|af|bj|year|jahr|annee|ano|anno|jaar|rok)? ?(?:20\\d\\d|(?<=\\D)\\d\\d)(?: (?:20)?\\d\\d)?(?: (?:ytd|to date|so far|bisher|total|a ce jour|hasta hoy|ate hoje|a oggi|tot nu|do dzis))?",
    "(?:week|wk|kw|woche|semaine|sem|semana|settimana|tydzien|tydz|w) ?\\d{1,2}(?: (?:20)?\\d\\d)?|(?:20\\d\\d )?(?:ytd|year to date|this year|last year)",
  ].join("|")})$`,
  "u",
);
/** Numbers that are no uses. */
const MONEY =
  /cost|price|spend|budget|kosten|preis|prix|cout|precio|preco|prezz|prijs|cena|hours|stunden|€|\$|£/iu;

/** Headings of numbers of other times than months, where nothing says that they are of money. */
function longTimes(page: Page, heading: HeadingRows): string[] {
  if ([page.sheet.name, ...heading.texts].some((text) => MONEY.test(text))) return [];
  return heading.texts.filter(
    (text, column) => LONG_TIME.test(phraseOf(text)) && isOf("numbers", page, heading, column),
  );
}

/** The same of a sheet: one such heading is enough where its name speaks of uses. */
function longTimesIn(page: Page, heading: HeadingRows): Said | null {
  const found = longTimes(page, heading);
  const isOfUses = saysOf(page.sheet.name, () => false) === "uses";
  // Many weeks are told as weeks.
  if (found.length >= WEEKS && found.every((text) => WEEK.test(text.trim()))) return null;
  return found.length >= (isOfUses ? 1 : ENOUGH) ? noMonths(found) : null;
}

function noMonths(headings: readonly string[]): Said {
  const names = listed(headings.map(quoted), NAMED);
  return [`has numbers under ${names}, which are no whole single months`, BY_MONTH];
}

/** Sheets with numbers of quarters, years or weeks beside the devices, in a book whose counts are read from others. */
export function longTallies(pages: readonly Page[], isDevice: IsDevice): Problem[] {
  return pages.flatMap((page): Problem[] => {
    for (const heading of headingCandidates(page.sheet)) {
      if (deviceColumn(page, heading, isDevice) === null) continue;
      const [what, fix] = longTimesIn(page, heading) ?? [];
      const { name } = page.sheet;
      if (what === undefined || fix === undefined) continue;
      return [
        fault("counts not read", wholeSheet(name), `${name} ${what}: they are not used.`, fix),
      ];
    }
    return [];
  });
}

/** A row for each use: days of devices, many in a month, on a sheet that speaks of uses. */
function isOfTests(page: Page, heading: HeadingRows, isDevice: IsDevice): boolean {
  const device = deviceColumn(page, heading, isDevice);
  const texts = [page.sheet.name, ...heading.texts];
  if (device === null || !texts.some((text) => saysOf(text, () => false) === "uses")) return false;
  // A number in each row is how many there were.
  const isNumbers = (column: number): boolean =>
    column !== device && isOf("numbers", page, heading, column);
  if (heading.texts.some((_, column) => isNumbers(column))) return false;
  return heading.texts.some((_, column) => {
    const days = daysBelow(page, heading, column);
    const last = lastFilledRow(page.sheet);
    const keys = new Set<string>();
    for (let row = heading.last + 1; row <= last; row += 1) {
      const day = trueDate(page, row, column);
      if (day !== null) keys.add(`${keyOf(identifierAt(page, row, device))} ${monthStart(day)}`);
    }
    const isOfDays = days.some((day) => civilDate(day).dayOfMonth > 1);
    return isOfDays && keys.size > 0 && days.length >= keys.size * MANY;
  });
}

function isOf(
  what: "dates" | "numbers",
  page: Page,
  { last }: HeadingRows,
  column: number,
): boolean {
  const evidence = evidenceOf(page, column, last + 1, lastFilledRow(page.sheet));
  return evidence.filled >= ENOUGH && evidence[what] >= MOSTLY;
}

/** The column that mostly names devices of the register. */
function deviceColumn(page: Page, heading: HeadingRows, isDevice: IsDevice): number | null {
  const last = lastFilledRow(page.sheet);
  const column = heading.texts.findIndex((_, at) => {
    let known = 0;
    let filled = 0;
    for (let row = heading.last + 1; row <= last; row += 1) {
      const name = identifierAt(page, row, at);
      if (name === "") continue;
      filled += 1;
      if (isDevice(keyOf(name))) known += 1;
    }
    return known >= ENOUGH && known >= filled / 2;
  });
  return column < 0 ? null : column;
}

/** The days of a column of dates or months. */
function daysBelow(page: Page, heading: HeadingRows, column: number): Day[] {
  const days: Day[] = [];
  for (let row = heading.last + 1; row <= lastFilledRow(page.sheet); row += 1) {
    const value = page.sheet.values[row]?.[column] ?? null;
    const text = typeof value === "string" ? readDateText(value) : null;
    const day = trueDate(page, row, column) ?? (text === null ? null : dayMeant(text));
    if (day !== null) days.push(day);
  }
  return days;
}

function dayMeant(text: NonNullable<ReturnType<typeof readDateText>>): Day | null {
  return text.kind === "day" ? text.date : monthMeant(text, "dmy");
}
