import { deviceKey } from "../../src/book/records/device-key.ts";
import { type Day, day } from "../../src/core/day.ts";
import { DEFAULT_PARTS } from "../../src/book/records/parts.ts";
import { readBook } from "../../src/book/reading/read.ts";
import type { Job, Ours, Problem, Reading, Register } from "../../src/book/records/records.ts";
import {
  type CellValue,
  columnLetters,
  type Sheet,
  type Snapshot,
} from "../../src/book/workbook/snapshot.ts";
import { paperSheet } from "../taskpane/paper.ts";
import { type Settings, defaultSettings } from "../../src/book/records/settings.ts";

/** Invented books for the tests of reading: rows as people would type them. */

/** A true date in a cell, by its ISO text. */
export interface Dated {
  readonly date: string;
}

export type Typed = CellValue | Dated;

/** A cell that holds a true date. */
export function on(date: string): Dated {
  return { date };
}

function isDated(value: Typed): value is Dated {
  return typeof value === "object" && value !== null && "date" in value;
}

/** A sheet of typed rows; dates get a date format. */
export function sheetOf(
  name: string,
  rows: readonly (readonly Typed[])[],
  more: Partial<Sheet> = {},
): Sheet {
  const values = rows.map((row) => row.map((value) => (isDated(value) ? day(value.date) : value)));
  const formats = rows.map((row) => row.map((value) => (isDated(value) ? 1 : 0)));
  return { ...paperSheet(name, values), formats, ...more };
}

/** A book of sheets. */
export function bookOf(sheets: readonly Sheet[], more: Partial<Snapshot> = {}): Snapshot {
  return { dateSystem: 1900, formats: ["General", "yyyy-mm-dd"], sheets, names: [], ...more };
}

export const REPORT_DATE = day("2026-06-30");

/** The programme's own sheets, mostly their defaults. */
export function oursOf(
  settings: Partial<Settings> = {},
  more: Partial<Omit<Ours, "settings">> = {},
): Ours {
  return {
    settings: { ...defaultSettings(REPORT_DATE), ...settings },
    parts: DEFAULT_PARTS,
    sites: [],
    holidays: [],
    unreadHolidays: 0,
    doubts: [],
    jobs: [],
    shelf: [],
    ...more,
  };
}

/** A complete replacement in the Job log. */
export function jobOf(device: string, part: string, date: string, more: Partial<Job> = {}): Job {
  return {
    sheet: "Job log",
    row: 3,
    date: day(date),
    device,
    part,
    job: "replaced",
    finding: "",
    complete: true,
    lot: "",
    by: "",
    note: "",
    ...more,
    deviceKey: deviceKey(more.device ?? device),
  };
}

/** Reads a book of these sheets; the input is frozen, so that any change to it throws. */
export function readSheets(sheets: readonly Sheet[], ours: Ours = oursOf()): Reading {
  return readBook(frozen(bookOf(sheets)), frozen(ours));
}

/** The register of a book that has one. */
export function onlyRegister({ registers }: Pick<Reading, "registers">): Register {
  const [register, ...others] = registers;
  if (register === undefined || others.length > 0) throw new Error("not one register");
  return register;
}

/** A value with everything in it made unchangeable; maps and sets are left as they are. */
export function frozen<T>(value: T): T {
  if (typeof value === "object" && value !== null && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const inner of Object.values(value)) frozen(inner);
  }
  return value;
}

/** Problems as "kind A1" for comparing: row and column as people see them, * for a whole one. */
export function told({ problems }: Pick<Reading, "problems">): string[] {
  return problems.map((problem) => `${problem.kind} ${placeOf(problem)}`);
}

function placeOf({ row, column }: Problem): string {
  const letters = column === null ? "*" : columnLetters(column);
  return `${letters}${row === null ? "*" : row + 1}`;
}

/** The first of a month. */
export function month(text: string): Day {
  return day(`${text}-01`);
}
