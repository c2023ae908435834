import { deviceKey } from "../records/device-key.ts";
import type { Day } from "../../core/day.ts";
import { periodOf } from "../headings/period.ts";
import { monthsIn } from "../headings/months.ts";
import { counted, listed, notice, wholeSheet } from "../records/problems.ts";
import { choosing } from "../records/registers.ts";
import { fieldOfPart, isLastDone } from "../records/positions.ts";
import type { Problem } from "../records/records.ts";
import { identifierAt } from "../workbook/cells.ts";
import type { Matching, Scored } from "./register-sheet.ts";

/** Above this share of known devices a sheet is a copy, or a list about them. */
const COPY = 0.5;
/** From here on a heading surely names devices. */
const SURE = 0.85;
const MOSTLY = 0.8;

/** Whether a sheet holds further devices of the programme, kept as those of the first one are. */
export function isAnother(one: Scored, picked: readonly Scored[]): boolean {
  const [main] = picked;
  return main !== undefined && isKeptAs(one, main) && !isCopy(one, picked);
}

/**
 * The register of today among copies that people begin anew each month or year: the sheet whose name says the latest
 * period that has begun. The main one itself where names say no periods.
 */
export function latestOf(main: Scored, scored: readonly Scored[], reportDate: Day): Scored {
  const from = (one: Scored): Day | null => periodOf(one.found.page.sheet.name);
  return scored.reduce((best, one) => {
    const [than, own] = [from(best), from(one)];
    if (than === null || own === null || own > reportDate) return best;
    // One that has begun goes before one that has not.
    if (own <= than && than <= reportDate) return best;
    return isKeptAs(one, main) && isCopy(one, [main]) ? one : best;
  }, main);
}

/**
 * What is told of a sheet that is not read and may hold devices of the programme: it has dates of parts, or
 * devices that are on no register. Null where there is nothing to miss.
 */
export function passedOver(one: Scored, picked: readonly Scored[]): Problem | null {
  const { found } = one;
  const [main] = picked;
  if (main === undefined || !namesEachOnce(found)) return null;
  const isLike = isKeptAs(one, main);
  if (!isLike && !isListOfDevices(found)) return null;
  const strange = strangers(one, picked);
  if (!isLike && strange === 0 && !hasDates(found)) return null;
  const { sheet } = found.page;
  const later = laterCopy(one, picked);
  if (later !== null && strange === 0) {
    return notice(
      "register not read",
      wholeSheet(sheet.name),
      `${sheet.name} is not read: its devices are also on ${later}, which is more recent.`,
      `If it is the register of today, choose it: --match "register=${sheet.name}", or a row Register in Setup.`,
    );
  }
  const sheets = picked.map((other) => other.found.page.sheet.name);
  const names = listed(sheets);
  const more =
    strange === 0
      ? `: its devices are on ${names} too`
      : `: ${counted(strange, "device")} of it ${strange === 1 ? "is" : "are"} not on ${names}`;
  return notice(
    "register not read",
    wholeSheet(sheet.name),
    `${sheet.name} looks like a register, but is not read${more}.`,
    `If its devices belong to the programme, choose it besides ${names}: ${choosing([...sheets, sheet.name])}.`,
  );
}

/** The name of a sheet picked in the place of an earlier copy of it; null where the names do not say so. */
function laterCopy({ found }: Scored, picked: readonly Scored[]): string | null {
  const own = periodOf(found.page.sheet.name);
  if (own === null) return null;
  const names = picked.map((one) => one.found.page.sheet.name);
  return names.find((name) => (periodOf(name) ?? own) > own) ?? null;
}

/** Half the fields of the main register, and dates of parts as there, in rows that name a device once. */
function isKeptAs({ found }: Scored, main: Scored): boolean {
  const fields = fieldsOf(found);
  const wanted = fieldsOf(main.found);
  const shared = [...wanted].filter((field) => fields.has(field)).length;
  return (
    shared * 2 >= wanted.size &&
    hasDates(found) === hasDates(main.found) &&
    (hasDates(found) || !isCounts(found)) &&
    namesEachOnce(found)
  );
}

/** A heading that surely names devices, and a column that only equipment has. */
function isListOfDevices(found: Matching): boolean {
  const device = found.matches.find(({ field }) => field === "device");
  const isThing = found.matches.some(({ field }) => /^(?:model|serial|last:.+)$/.test(field));
  return device !== undefined && device.confidence >= SURE && isThing && !isCounts(found);
}

function isCounts({ page, heading }: Matching): boolean {
  return monthsIn(page, heading).length >= 2;
}

function fieldsOf({ matches }: Matching): ReadonlySet<string> {
  return new Set(
    matches.flatMap(({ field }) =>
      field === "site" || field === "note" ? [] : fieldOfPart(field),
    ),
  );
}

function hasDates({ matches }: Matching): boolean {
  return matches.some(({ field }) => isLastDone(field));
}

function namesEachOnce({ matches, candidates }: Matching): boolean {
  const device = matches.find(({ field }) => field === "device");
  const evidence = candidates.find(({ column }) => column === device?.column)?.evidence;
  return device !== undefined && (evidence?.filled ?? 0) > 0 && (evidence?.distinct ?? 0) >= MOSTLY;
}

function isCopy(one: Scored, picked: readonly Scored[]): boolean {
  const own = keysIn(one.found).length;
  return (own - strangers(one, picked)) / Math.max(1, own) > COPY;
}

/** How many devices of a sheet are on none of those picked, neither by their own number nor by their serial one. */
function strangers({ found }: Scored, picked: readonly Scored[]): number {
  const known = new Set(picked.flatMap((one) => keysIn(one.found).flat()));
  return keysIn(found).filter((keys) => !keys.some((key) => known.has(key))).length;
}

const gathered = new WeakMap<Matching, readonly (readonly string[])[]>();

/** What each row names its device by. */
function keysIn(found: Matching): readonly (readonly string[])[] {
  const there = gathered.get(found);
  if (there !== undefined) return there;
  const { page, heading, lastRow, matches } = found;
  const column = matches.find(({ field }) => field === "device")?.column ?? 0;
  const serial = matches.find(({ field }) => field === "serial")?.column ?? column;
  const rows: string[][] = [];
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    const key = deviceKey(identifierAt(page, row, column));
    const other = deviceKey(identifierAt(page, row, serial));
    if (key !== "") rows.push(other === "" ? [key] : [key, other]);
  }
  gathered.set(found, rows);
  return rows;
}
