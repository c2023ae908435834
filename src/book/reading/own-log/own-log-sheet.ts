import { deviceKey } from "../../records/device-key.ts";
import { evidenceOf } from "../../headings/column-profile.ts";
import { headingsAt, type HeadingRows } from "../../headings/headings.ts";
import { asksHowItWent, saysMended } from "../../headings/work-beside.ts";
import type { WorkReader } from "../../headings/work-text.ts";
import { wordsOf } from "../../headings/words.ts";
import {
  identifierAt,
  isBlank,
  lastFilledRow,
  type Page,
  textOf,
  widest,
} from "../../workbook/cells.ts";
import { columnLetters } from "../../workbook/snapshot.ts";

/** Where a sheet holds the lines of a log. */
export interface LogSheet {
  readonly page: Page;
  readonly first: number;
  readonly last: number;
  readonly device: number;
  /** Several where a line has more than one day. */
  readonly dates: readonly number[];
  /** Columns of words that say what was done, from left to right. */
  readonly work: readonly number[];
  readonly finding: number | null;
  readonly note: number | null;
  /** Columns of other words, of which some may turn those of the work. */
  readonly beside: readonly number[];
  /** Columns that say whether, or when, a fault was repaired. */
  readonly mended: readonly number[];
  readonly lot: number | null;
  readonly by: number | null;
  readonly headingOf: (column: number) => string;
}

/** What tells a log from other lists. */
export interface LogWords extends WorkReader {
  readonly isDevice: (key: string) => boolean;
  /** Whether a heading says that its days are no days of work, such as the day a device was bought. */
  readonly isOther: (heading: string) => boolean;
  /** Whether the name of a sheet, or the heading of a day, says replaced, whatever the part. */
  readonly saysReplaced: (title: string) => boolean;
  /** Whether a heading is that of a site or a number of a device. */
  readonly isPlace: (heading: string) => boolean;
}

const MOST_COLUMNS = 40;
const SAMPLE = 200;
/** Devices and days of a log are mostly the register's own and dates; some of its words say work. */
const MOSTLY = 0.5;
const SOME = 0.2;
const FEWEST = 2;

/** A sheet with a device, a day and words for work in its lines; null for any other. `sure` when a person chose it. */
export function logSheetIn(page: Page, words: LogWords, sure: boolean): LogSheet | null {
  const last = lastFilledRow(page.sheet);
  const device = deviceColumn(page, last, words.isDevice, sure);
  if (device === null) return null;
  const { column, first } = device;
  const heading = headingAbove(page, first);
  const texts = heading?.texts ?? [];
  const width = Math.min(widest(page.sheet.values.slice(first, last + 1)), MOST_COLUMNS);
  const columns = Array.from({ length: width }, (_, at) => ({
    column: at,
    heading: texts[at] ?? "",
    evidence: evidenceOf(page, at, first, last),
  })).filter(({ column: at, evidence }) => at !== column && evidence.filled > 0);
  const roles = columns.map((one) => ({ ...one, role: roleOf(one.heading) }));
  const dates = roles.filter(
    ({ evidence, heading: text, role }) =>
      evidence.dates >= MOSTLY && role !== "turned" && !words.isOther(text),
  );
  const texted = roles.filter(({ evidence }) => evidence.texts >= MOSTLY);
  const says = texted.filter(({ column: at, heading: text, role }) => {
    const isPlain = role === null || role === "note";
    return isPlain && saysWork(page, { column: at, first, last, heading: text }, words) >= SOME;
  });
  const plain = says.filter(({ role }) => role === null);
  // A column that asks how the work went is none of it, where another says what it was.
  const told = plain.filter(({ heading: text }) => !asksHowItWent(text));
  const work = told.length > 0 ? told : plain.length > 0 ? plain : says;
  const finding = roles.find(({ role }) => role === "finding")?.column ?? null;
  if (dates.length === 0 || (work.length === 0 && finding === null)) return null;
  const of = (wanted: Role): number | null =>
    roles.find(({ role, column: at }) => role === wanted && !work.some((one) => one.column === at))
      ?.column ?? null;
  const [note, taken] = [of("note"), new Set([...dates, ...work].map((one) => one.column))];
  const beside = roles.filter(({ column: at, heading: text, role }) => {
    // What was not repaired is as bad as before.
    const isAsked = saysMended(text) && !asksHowItWent(text);
    const isFree = !taken.has(at) && at !== note && !words.isPlace(text) && !isAsked;
    return isFree && (role === null || role === "note" || asksHowItWent(text));
  });
  return {
    page,
    first,
    last,
    device: column,
    dates: dates.map((one) => one.column),
    work: work.map((one) => one.column),
    finding,
    note,
    beside: beside.map((one) => one.column),
    mended: columns.flatMap(({ column: at, heading: text }) =>
      saysMended(text) && (dates.length > 1 || dates[0]?.column !== at) ? at : [],
    ),
    lot: of("lot"),
    by: of("by"),
    headingOf: (at) => texts[at] || columnLetters(at),
  };
}

type Role = "finding" | "note" | "lot" | "by" | "turned";

/** What a column beside date, device and work is for; "turned" where its words are of another time or thing. */
function roleOf(heading: string): Role | null {
  const words = wordsOf(heading, new Set()).map(({ text, turning }) => ({ text, turning }));
  const has = (...texts: readonly string[]): boolean =>
    words.some(({ text }) => texts.includes(text));
  if (has("lot", "batch")) return "lot";
  if (has("by", "who", "initials", "signature", "technician")) return "by";
  if (words.some(({ turning }) => turning)) return "turned";
  if (has("finding")) return "finding";
  return has("note") ? "note" : null;
}

interface DeviceColumn {
  readonly column: number;
  /** The first line of the log. */
  readonly first: number;
}

/** The column whose cells mostly name devices of the register. */
function deviceColumn(
  page: Page,
  last: number,
  isDevice: LogWords["isDevice"],
  sure: boolean,
): DeviceColumn | null {
  let best: (DeviceColumn & { readonly known: number }) | null = null;
  const width = Math.min(widest(page.sheet.values.slice(0, last + 1)), MOST_COLUMNS);
  for (let column = 0; column < width; column += 1) {
    const { filled, known, first } = devicesIn(page, { column, last }, isDevice);
    if (known < (sure ? 1 : FEWEST) || (!sure && known < filled * MOSTLY)) continue;
    if (best === null || known > best.known) best = { column, first, known };
  }
  return best;
}

/** How many cells of a column name a device, and how many are filled from the first one on. */
function devicesIn(
  page: Page,
  { column, last }: { readonly column: number; readonly last: number },
  isDevice: LogWords["isDevice"],
) {
  let [filled, known, first] = [0, 0, -1];
  for (let row = 0; row <= last; row += 1) {
    if (isBlank(page.sheet.values[row]?.[column] ?? null)) continue;
    const isKnown = isDevice(deviceKey(identifierAt(page, row, column)));
    if (isKnown && first < 0) first = row;
    if (first >= 0) filled += 1;
    if (isKnown) known += 1;
  }
  return { filled, known, first };
}

/** The nearest row of headings above the first line; null where the lines begin at once. */
function headingAbove({ sheet }: Page, first: number): HeadingRows | null {
  for (let row = first - 1; row >= Math.max(0, first - 3); row -= 1) {
    const found = headingsAt(sheet, row).at(-1);
    if (found !== undefined && found.texts.filter((text) => text !== "").length > 1) return found;
  }
  return null;
}

interface Cells {
  readonly column: number;
  readonly first: number;
  readonly last: number;
  readonly heading: string;
}

/** Share of a column's cells in which work, or a part, can be read. */
function saysWork(
  { sheet }: Page,
  { column, first, last, heading }: Cells,
  words: LogWords,
): number {
  const step = Math.max(1, Math.floor((last - first + 1) / SAMPLE));
  let [filled, known] = [0, 0];
  for (let row = first; row <= last; row += step) {
    const text = textOf(sheet.values[row]?.[column] ?? null);
    if (text === "") continue;
    filled += 1;
    if (words.read(text, heading).says !== "unknown") known += 1;
  }
  return filled === 0 ? 0 : known / filled;
}
