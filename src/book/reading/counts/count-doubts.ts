import type { Day } from "../../../core/day.ts";
import { speaksAgainstCount } from "../../headings/comment-text.ts";
import { cellKey, type Sheet } from "../../workbook/snapshot.ts";
import { wordsSaid } from "../told/first-words.ts";
import type { Count } from "../../records/records.ts";
import { inDoubt, type Met, type Why } from "./count-parts.ts";
import type { CountSheet } from "./count-sheets.ts";
import type { CountNote } from "./count-faults.ts";
import { isOutOfOrder, type Newer, newerIn } from "./newest-counts.ts";
import { lackingIn } from "./lacking-counts.ts";
import { otherNames } from "../devices/other-names.ts";
import type { Found } from "../register/register.ts";
import { oddCounts } from "./odd-counts.ts";
import { oddSheet } from "./odd-sheet.ts";

interface Read {
  readonly byDevice: ReadonlyMap<string, Count[]>;
  /** Of how many rows a sum is. */
  readonly parts: ReadonlyMap<Count, number>;
  readonly met: Met[];
  /** Counts that a later row of their sheet put in the place of others. */
  readonly corrected: readonly Met[];
}

/** Everything that puts counts in doubt once those of all sheets are there. */
function doubtTogether(
  read: Read & { readonly newer: ReadonlyMap<string, Newer>; readonly reportDate: Day },
  sheets: readonly CountSheet[],
): void {
  doubtCounters(read);
  doubtMarked(
    read,
    sheets.map(({ page }) => page.sheet),
  );
  doubtOdd(read, read.reportDate);
  if (read.newer.size > 0) doubtNewest(read, read.newer);
  if (read.parts.size > 0) doubtFewer(read);
  if (read.corrected.length > 0) doubtHabit(read);
}

/** Rows of which most come twice are no corrections: each may be a part, and the higher one too low. */
function doubtHabit({ byDevice, met, corrected }: Read): void {
  const all = [...byDevice.values()].flat().filter(({ count }) => count !== null);
  if (corrected.length < ENOUGH || corrected.length * 2 < all.length) return;
  for (const one of corrected) {
    const own = byDevice.get(one.count.deviceKey) ?? [];
    if (own.includes(one.count)) doubt(own, met, { ...one, why: "rows" });
  }
}

const ENOUGH = 4;

/** A month of fewer parts than one before it lacks some, and may be too low. */
function doubtFewer({ byDevice, parts, met }: Read): void {
  for (const own of byDevice.values()) {
    let most = 1;
    for (const count of [...own].sort((one, other) => one.month - other.month)) {
      const number = parts.get(count) ?? 1;
      if (number < most && count.count !== null)
        doubt(own, met, { why: "fewer", count, other: "" });
      most = Math.max(most, number);
    }
  }
}

/** Months, rises among them, and a number from which on a device's counts show that they are a counter's. */
const MONTHS = 6;
const RISES = 4;
const READING = 100;
const NEARLY_ALL = 0.9;
/** Months that one device alone must have. */
const ALONE = 9;

/** Numbers that never fall from month to month, on nearly all devices, are readings of counters and no month's uses. */
function doubtCounters({ byDevice, met }: Read): void {
  const lists = [...byDevice.values()]
    .map((own) => own.filter(({ count }) => count !== null))
    .filter(({ length }) => length >= MONTHS);
  const counters = lists.filter(isCounter);
  const [first] = counters;
  if (first === undefined || counters.length < lists.length * NEARLY_ALL) return;
  if (counters.length === 1 && first.length < ALONE) return;
  for (const count of counters.flat()) {
    const own = byDevice.get(count.deviceKey) ?? [];
    doubt(own, met, { why: "counter", count, other: "" });
  }
}

function isCounter(own: readonly Count[]): boolean {
  const numbers = [...own]
    .sort((one, other) => one.month - other.month)
    .map(({ count }) => count ?? 0);
  const rises = numbers.filter((number, at) => number > (numbers[at - 1] ?? number)).length;
  return (
    (numbers.at(-1) ?? 0) >= READING &&
    rises >= RISES &&
    numbers.every((number, at) => number >= (numbers[at - 1] ?? 0))
  );
}

/** Counts that are struck through, or that a comment speaks against. */
function doubtMarked({ byDevice, met }: Read, sheets: readonly Sheet[]): void {
  for (const { name, struck, comments } of sheets) {
    if (struck === undefined && comments === undefined) continue;
    for (const own of byDevice.values()) {
      for (const count of [...own]) {
        if (count.sheet !== name || count.count === null) continue;
        const key = cellKey(count.row, count.column);
        const said = comments?.get(key);
        const isAgainst = said !== undefined && speaksAgainstCount(wordsSaid(said));
        if (isAgainst || struck?.has(key)) doubt(own, met, { why: "marked", count, other: "" });
      }
    }
  }
}

/** The newest count of a device may be an old one where a newer one was not read. */
function doubtNewest({ byDevice, met }: Read, newer: ReadonlyMap<string, Newer>): void {
  for (const [key, why] of newer) {
    const own = byDevice.get(key) ?? [];
    const newest = newestOf(own);
    if (newest !== null) doubt(own, met, { why, count: newest, other: "" });
  }
}

/** The newest count that is one. */
function newestOf(own: readonly Count[]): Count | null {
  const counts = own.filter(({ count }) => count !== null);
  return counts.reduce<Count | null>(
    (last, one) => (last !== null && last.month > one.month ? last : one),
    null,
  );
}

/** Counts beside which stand others that are not used may lack what those have. */
function doubtBeside({ byDevice, met }: Read, others: readonly Count[]): void {
  for (const { deviceKey, month, sheet, count, faulty } of others) {
    const own = byDevice.get(deviceKey) ?? [];
    const used = own.find((one) => one.month === month && one.count !== null);
    if (used === undefined || (count === null && !faulty)) continue;
    doubt(own, met, { why: "not used", count: used, other: sheet });
  }
}

/** The newest counts of all devices, where they changed together. */
function doubtOdd({ byDevice, met }: Read, reportDate: Day): void {
  for (const [why, count] of oddCounts(byDevice.values(), reportDate)) {
    doubt(byDevice.get(count.deviceKey) ?? [], met, { why, count, other: "" });
  }
}

/** The devices, and where they stand. */
interface Known {
  readonly byKey: ReadonlyMap<string, unknown>;
  readonly founds: readonly Found[];
}

/** All counts of a sheet, where there is a reason; the newest where something says that some are missing. */
function doubtSheet(
  { byDevice, byKey, founds, met }: Read & Known,
  sheet: CountSheet,
  notes: readonly CountNote[],
): void {
  const { page } = sheet;
  const lacking = new Map<string, string>();
  let known: ReturnType<typeof otherNames> | null = null;
  const names = (): ReturnType<typeof otherNames> => (known ??= otherNames(founds));
  for (const { said, keys } of lackingIn(sheet, (key) => byKey.has(key), names)) {
    for (const key of keys ?? byKey.keys()) lacking.set(key, lacking.get(key) ?? said);
  }
  for (const [key, said] of lacking) {
    const own = byDevice.get(key) ?? [];
    const newest = newestOf(own.filter((one) => one.sheet === page.sheet.name));
    if (newest !== null) doubt(own, met, { why: "lacking", count: newest, other: said });
  }
  const why: Why | null = oddSheet(sheet, notes);
  if (why === null) return;
  const { name } = page.sheet;
  for (const own of byDevice.values()) {
    for (const count of own.filter((one) => one.sheet === name && one.count !== null)) {
      doubt(own, met, { why, count, other: "" });
    }
  }
}

function doubt(own: Count[], met: Met[], one: Met): void {
  const at = own.indexOf(one.count);
  // It may be in doubt already.
  if (at < 0) return;
  own[at] = inDoubt(one.count);
  met.push(one);
}

/** What reading counts asks, besides the counts. */
export interface AskedOfCounts {
  readonly asked: () => CountDoubts;
  /** The registers, which may have other names of the devices. */
  readonly founds?: readonly Found[];
  readonly doubting?: readonly CountSheet[];
}

/** What puts counts in doubt; who shows a first list soon fetches it where there are counts. */
export interface CountDoubts {
  readonly together: typeof doubtTogether;
  readonly beside: typeof doubtBeside;
  readonly sheet: typeof doubtSheet;
  readonly newerIn: typeof newerIn;
  readonly isOutOfOrder: typeof isOutOfOrder;
}

export const countDoubts: CountDoubts = {
  together: doubtTogether,
  beside: doubtBeside,
  sheet: doubtSheet,
  newerIn,
  isOutOfOrder,
};
