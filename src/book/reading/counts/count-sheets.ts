import { identifierAt, isBlank, keyOf, lastFilledRow, type Page } from "../../workbook/cells.ts";
import { evidenceOf } from "../../headings/column-profile.ts";
import type { Field } from "../../headings/fields.ts";
import { headingCandidates, type HeadingRows } from "../../headings/headings.ts";
import { matchColumns } from "../../headings/claims.ts";
import { ACCEPTED, type Matcher, matcherOf } from "../../headings/match.ts";
import { areWeeks, type MonthColumn, monthsIn } from "../../headings/months.ts";
import { usesColumn } from "./count-columns.ts";
import { usesOfMonths } from "./uses-of-months.ts";

/** A sheet of monthly counts: months side by side, or one row for each device and month. */
export type CountSheet = {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly lastRow: number;
  readonly device: number;
  /** Headings of the columns of a month of which nothing says which holds the uses. */
  readonly unclear?: readonly string[];
  /** Headings of numbers that may be uses as well, and are not needed. */
  readonly beside?: readonly string[];
} & (
  | {
      readonly shape: "wide";
      readonly months: readonly MonthColumn[];
      /** What stands over the numbers or right below their months. */
      readonly over: readonly string[];
    }
  | { readonly shape: "long"; readonly month: number; readonly count: number }
);

const DEVICE: Field = {
  key: "device",
  title: "Device",
  holds: "text",
  phrases: ["device", "device id", "device number", "unit id", "unit number", "inventory number"],
  lesser: ["id", "unit", "inventory", "screening device"],
  dated: [],
};
const MONTH: Field = {
  key: "month",
  title: "Month",
  holds: "date",
  phrases: ["month", "month start", "count month", "month year", "month date", "uses month"],
  lesser: ["date", "period", "start date", "count date", "month end"],
  dated: [],
};
const COUNT: Field = {
  key: "count",
  title: "Count",
  holds: "number",
  phrases: [
    "count",
    "uses",
    "uses count",
    "count uses",
    "uses month",
    "total uses",
    "device uses",
    "number uses",
    "quantity uses",
  ],
  lesser: ["number", "total", "quantity", "value", "month count"],
  dated: [],
};

const MATCHER: Matcher = matcherOf([DEVICE, MONTH, COUNT]);
const SAMPLE = 60;
/** Devices of a list must mostly be the register's own for it to be taken for counts. */
const MOSTLY_KNOWN = 0.5;
const FEW = 5;
const MOST_COLUMNS_LOOKED_AT = 60;

/** The best reading of a sheet as counts, and the first one with months side by side. */
interface Readings {
  readonly best: CountSheet;
  readonly first: CountSheet;
}

/** The readings of a sheet as counts, null when it is none. `sure` when a person chose it. */
export function readingsOf(
  page: Page,
  isDevice: (key: string) => boolean,
  sure: boolean,
): Readings | null {
  const lastRow = lastFilledRow(page.sheet);
  let best: { readonly sheet: CountSheet; readonly score: number } | null = null;
  let first: CountSheet | null = null;
  for (const heading of headingCandidates(page.sheet)) {
    const base = { page, heading, lastRow };
    for (const sheet of [wideIn(base, isDevice), longIn(base)]) {
      if (sheet === null) continue;
      const score = scoreOf(sheet, isDevice, sure);
      if (score === 0) continue;
      if (best === null || score > best.score) best = { sheet, score };
      if (first === null && sheet.shape === "wide") first = sheet;
    }
  }
  return best === null ? null : { best: best.sheet, first: first ?? best.sheet };
}

/** A register with months of its own: the counts stand in it. */
export function countsBeside(
  base: Pick<CountSheet, "page" | "heading" | "lastRow" | "device">,
): CountSheet | null {
  const months = monthsIn(base.page, base.heading);
  const isOfWeeks = areWeeks(months.map(({ date }) => date));
  return months.length < 2 || isOfWeeks ? null : { ...base, shape: "wide", months, over: [] };
}

function scoreOf(sheet: CountSheet, isDevice: (key: string) => boolean, sure: boolean): number {
  const { filled, known } = knownShare(sheet, isDevice);
  if (!sure && filled > 0 && known < MOSTLY_KNOWN) return 0;
  if (!sure && filled === 0) return 0;
  const months = sheet.shape === "wide" ? Math.min(sheet.months.length, 24) / 24 : 0.5;
  return 0.1 + known + months;
}

function knownShare(
  { page, device, heading, lastRow }: Omit<CountSheet, "shape">,
  isDevice: (key: string) => boolean,
): { readonly filled: number; readonly known: number } {
  const first = heading.last + 1;
  const step = Math.max(1, Math.floor((lastRow - first + 1) / SAMPLE));
  let filled = 0;
  let known = 0;
  for (let row = first; row <= lastRow; row += step) {
    if (isBlank(page.sheet.values[row]?.[device] ?? null)) continue;
    filled += 1;
    if (isDevice(keyOf(identifierAt(page, row, device)))) known += 1;
  }
  return { filled, known: filled === 0 ? 0 : known / filled };
}

type Base = Pick<CountSheet, "page" | "heading" | "lastRow">;

function wideIn(base: Base, isDevice: (key: string) => boolean): CountSheet | null {
  const { page, heading, lastRow } = base;
  const months = monthsIn(page, heading);
  if (months.length === 0 || !inOrder(months)) return null;
  if (areWeeks(months.map(({ date }) => date))) return null;
  const headed = headedDevice(heading, new Set(months.map(({ column }) => column)));
  const device = headed ?? unheadedDevice(base, months, isDevice);
  if (device === null || (headed === null && months.length < 2)) return null;
  // A row of a register, with its dates side by side, is no heading.
  if (isDevice(keyOf(identifierAt(page, heading.last, device)))) return null;
  const [firstMonth] = months;
  if (firstMonth === undefined) return null;
  const below = evidenceOf(page, firstMonth.column, heading.last + 1, lastRow);
  return below.dates > 0.5 && below.filled >= FEW
    ? null
    : { ...base, shape: "wide", device, ...usesOfMonths(base, device, months) };
}

function inOrder(months: readonly MonthColumn[]): boolean {
  return (
    months.every(({ date }, at) => at === 0 || date > (months[at - 1]?.date ?? 0)) ||
    months.every(({ date }, at) => at === 0 || date < (months[at - 1]?.date ?? 0)) ||
    new Set(months.map(({ date }) => date)).size > months.length / 2
  );
}

function headedDevice(heading: HeadingRows, months: ReadonlySet<number>): number | null {
  let best: number | null = null;
  let least = ACCEPTED;
  heading.texts.slice(0, MOST_COLUMNS_LOOKED_AT).forEach((text, column) => {
    if (text === "" || months.has(column)) return;
    const score = MATCHER.likeness(text, DEVICE, null);
    if (score > least || (score === least && best === null)) {
      best = column;
      least = score;
    }
  });
  return best;
}

/** The column that holds the register's devices although its heading does not say so. */
function unheadedDevice(
  base: Base,
  months: readonly MonthColumn[],
  isDevice: (key: string) => boolean,
): number | null {
  const firstMonth = months.reduce((least, { column }) => Math.min(least, column), Infinity);
  for (let column = 0; column < Math.min(firstMonth, MOST_COLUMNS_LOOKED_AT); column += 1) {
    if (knownShare({ ...base, device: column }, isDevice).known >= MOSTLY_KNOWN) return column;
  }
  return null;
}

function longIn(base: Base): CountSheet | null {
  const { page, heading, lastRow } = base;
  const candidates = heading.texts
    .slice(0, MOST_COLUMNS_LOOKED_AT)
    .map((text, column) => ({ column, heading: text, evidence: null }))
    .filter((candidate) =>
      MATCHER.fields.some((field) => MATCHER.likeness(candidate.heading, field, null) >= ACCEPTED),
    )
    .map((candidate) => ({
      ...candidate,
      evidence: evidenceOf(page, candidate.column, heading.last + 1, lastRow),
    }));
  if (candidates.length < 3) return null;
  const matches = new Map(
    matchColumns(MATCHER, candidates).matches.map(({ field, column }) => [field, column]),
  );
  const device = matches.get("device");
  const month = matches.get("month");
  const count = matches.get("count");
  if (device === undefined || month === undefined || count === undefined) return null;
  const numbers = candidates.find(({ column }) => column === count)?.evidence;
  if (numbers !== undefined && numbers.filled > 0 && numbers.numbers < 0.5) return null;
  const isCount = (text: string): boolean => MATCHER.likeness(text, COUNT, null) >= ACCEPTED;
  return {
    ...base,
    shape: "long",
    ...usesColumn({ ...base, device, month, count }, isCount),
    device,
    month,
  };
}
