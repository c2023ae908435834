import { onlyRegister } from "../scenes/scene.ts";
import { addMonths, type Day, monthStart, toSerial } from "../../src/core/day.ts";
import type { Part, Reading } from "../../src/book/records/records.ts";
import {
  type CellValue,
  isCellError,
  type Sheet,
  sheetNamed,
  type Snapshot,
  valueAt,
} from "../../src/book/workbook/snapshot.ts";
import { textOf } from "../../src/book/sheets/layout.ts";
import { type Computed, COMPUTED_WORDS } from "../../src/book/answers/titles.ts";
import { computedTitle } from "../../src/book/answers/titles.ts";
import { isSteady, type Unit } from "./by-hand.ts";
import { type AheadJson, COUNTS, type Commanded, columnAt, rowsOf, serialOf } from "./roads.ts";

const COMPUTED = Object.keys(COMPUTED_WORDS) as readonly Computed[];

/** What a road answers, by a key such as "state: row 4, SET" that begins with the kind of answer. */
export type Answers = Map<string, CellValue>;

/** What is answered. */
const KINDS = [
  ...COMPUTED,
  "today",
  "year, by date",
  "year, by count",
  "year, by a life",
  "need by",
  "quantity",
  "order by",
  "cost",
  "reorder point",
  "budget",
] as const;
export type Kind = (typeof KINDS)[number];

/**
 * The kinds that may differ by rounding: the library and a worksheet add the units' months up in another
 * order than the command line. All else is equal to the last digit; LibreOffice gives no such number.
 */
const ADDED: readonly Kind[] = ["year, by date"];
const ADDING = 1e-12;

/** Where a road differs from the command line, in kinds it says it gives; empty where nowhere. */
export function disagreements(
  wanted: Answers,
  found: Answers,
  gives: readonly Kind[],
): { readonly different: string[]; readonly compared: number } {
  const kindOf = (key: string): Kind | undefined =>
    KINDS.find((kind) => key.startsWith(`${kind}: `));
  const mine = new Set(
    [...wanted.keys(), ...found.keys()].filter((key) => gives.some((kind) => kind === kindOf(key))),
  );
  const different = [...mine].flatMap((key) => {
    const [one, other] = [wanted.get(key), found.get(key)];
    const same = ADDED.some((kind) => kind === kindOf(key))
      ? isNear(one, other)
      : isSame(one, other);
    return same ? [] : [`${key}: ${told(one)} and ${told(other)}`];
  });
  return { different, compared: mine.size };
}

function isNear(one: CellValue | undefined, other: CellValue | undefined): boolean {
  if (typeof one !== "number" || typeof other !== "number") return false;
  return Math.abs(one - other) <= ADDING * Math.max(1, Math.abs(one));
}

function isSame(one: CellValue | undefined, other: CellValue | undefined): boolean {
  return one !== undefined && told(one) === told(other);
}

function told(cell: CellValue | undefined): string {
  if (cell === undefined) return "no answer";
  return typeof cell === "object" && isCellError(cell) ? cell.error : JSON.stringify(cell ?? "");
}

/** The register with its columns: where they stand. */
export interface Columns {
  readonly sheet: Sheet;
  readonly headerRow: number;
  readonly rows: readonly number[];
  readonly parts: readonly Part[];
}

/** The columns of a reading's register in a sheet that has them. */
export function columnsIn(sheet: Sheet, reading: Reading): Columns {
  const { headerRow, rows } = onlyRegister(reading);
  const { ours } = reading;
  const parts = ours.parts.filter(
    (part) => columnAt(sheet, headerRow, computedTitle(part, "state")) !== null,
  );
  return { sheet, headerRow, rows, parts };
}

/** Answers of the columns and today's counts, from wherever the cells come. */
export function columnAnswers(
  { sheet, headerRow, rows, parts }: Columns,
  cellAt: (row: number, column: number, part: Part, at: number) => CellValue,
): Answers {
  const answers: Answers = new Map();
  const gone = new Set<number>();
  const states = { overdue: 0, dueSoon: 0, toCheck: 0, notDue: 0 };
  const counted: Readonly<Record<string, keyof typeof states>> = {
    ...{ Overdue: "overdue", "Due soon": "dueSoon" },
    ...{ "Check row": "toCheck", "Not due": "notDue" },
  };
  for (const part of parts) {
    const places = COMPUTED.map(
      (one) => columnAt(sheet, headerRow, computedTitle(part, one)) ?? -1,
    );
    for (const row of rows) {
      const cells = places.map((column, at) => cellAt(row, column, part, at) ?? "");
      COMPUTED.forEach((kind, at) => {
        answers.set(`${kind}: row ${row + 1}, ${part.code}`, cells[at] ?? "");
      });
      const state = textOf(cells[COMPUTED.indexOf("state")]);
      if (state === "Retired") gone.add(row);
      const count = counted[state];
      if (count !== undefined) states[count] += 1;
    }
  }
  const today = { ...states, retired: gone.size };
  for (const [what, count] of Object.entries(today)) answers.set(`today: ${what}`, count);
  return answers;
}

/** Everything the command line answers: its columns, and what it says for machines. */
export function commandAnswers(
  columns: Columns,
  commanded: Commanded,
  reading: Reading,
  system: 1900 | 1904,
): Answers {
  const { worked, ahead, order, budget, today } = commanded;
  const units = unitsOf(worked, reading, system);
  const answers = columnAnswers(
    columns,
    (row, column) => columns.sheet.values[row]?.[column] ?? null,
  );
  for (const what of COUNTS) answers.set(`today: ${what}`, today[what]);
  const nameOf = (code: string): string =>
    reading.ours.parts.find((part) => part.code === code)?.name ?? "";
  for (const part of ahead.parts) {
    const kind = yearKind(part, units.get(nameOf(part.part)) ?? []);
    part.months.forEach(({ expected }, at) => {
      answers.set(`${kind}: ${nameOf(part.part)}, month ${at}`, expected);
    });
  }
  [...order.now, ...order.later].forEach((line, at) => {
    const key = `${nameOf(line.part)}, ${line.site}, line ${at + 1}`;
    answers.set(`need by: ${key}`, serialOf(line.needBy, system));
    answers.set(`order by: ${key}`, serialOf(line.orderBy, system));
    answers.set(`quantity: ${key}`, line.units);
    answers.set(`cost: ${key}`, line.cost);
  });
  for (const [key, value] of reorderPoints(worked)) answers.set(key, value);
  answers.set("budget: expected", budget.expected);
  return answers;
}

/** By what a part's year goes: dates alone, a few worn ends (or an interval that changes), a fitted life. */
/** A log that shows neither a worn part nor a month in use gives no rate. */
export function saysNothing({ worn, months }: AheadJson["parts"][number]["wear"]): boolean {
  return worn === 0 && months < 1;
}

function yearKind({ wear, fits }: AheadJson["parts"][number], units: readonly Unit[]): Kind {
  if (fits !== null) return "year, by a life";
  return saysNothing(wear) && units.every(isSteady) ? "year, by date" : "year, by count";
}

/** Longer ago than any interval lasts: a part taken as due at once. */
const LONG_AGO = 3751;

/** The parts in use by name, as the sheet Year by device and the register tell of them. */
export function unitsOf(
  book: Snapshot,
  reading: Reading,
  system: 1900 | 1904,
): Map<string, Unit[]> {
  const { devices, ours } = reading;
  const register = onlyRegister(reading);
  const today = toSerial(ours.settings.reportDate, system);
  const sheet = sheetNamed(book, register.sheet);
  const retiredOn = register.matches.find(({ field }) => field === "retiredOn")?.column ?? null;
  const leaves = new Map<string, number>();
  for (const { id, row, doubt } of [...devices].reverse()) {
    // A day to come beside the word Retired is no day to plan with.
    if (/retire/.test(doubt ?? "")) continue;
    const on = sheet === null || retiredOn === null ? null : valueAt(sheet, row, retiredOn);
    leaves.set(id, typeof on === "number" && Math.floor(on) > today ? Math.floor(on) : 0);
  }
  const units = new Map<string, Unit[]>();
  for (const row of rowsOf(book, "Year by device", "Part")) {
    const began = row.get("Interval began");
    const unit = {
      began: typeof began === "number" ? began : today - LONG_AGO,
      months: Number(row.get("Interval now (months)")),
      then: Number(row.get("Interval then (months)")),
      until: leaves.get(text(row, "Device")) || null,
    };
    const part = text(row, "Part");
    units.set(part, [...(units.get(part) ?? []), unit]);
  }
  return units;
}

/** The reorder points of a book with its orders worked out. */
function reorderPoints(book: Snapshot): Answers {
  return new Map(
    rowsOf(book, "Calculation", "Item").map((row) => [
      `reorder point: ${text(row, "Item")}, ${text(row, "Site")}`,
      row.get("Reorder point") ?? null,
    ]),
  );
}

function text(row: ReadonlyMap<string, CellValue>, heading: string): string {
  return textOf(row.get(heading));
}

/** What stands in the cells of a book with its orders and its year ahead, by the kinds that are wanted. */
export function sheetAnswers(
  book: Snapshot,
  wanted: Answers,
  reportDate: Day,
  system: 1900 | 1904,
): Answers {
  const answers = reorderPoints(book);
  const from = monthStart(reportDate);
  const months = Array.from({ length: 13 }, (_, at) => toSerial(addMonths(from, at), system));
  for (const row of rowsOf(book, "Year ahead", "Part")) {
    const at = months.indexOf(Number(row.get("Month")));
    const rest = `: ${text(row, "Part")}, month ${at}`;
    const kind = KINDS.find((one) => wanted.has(one + rest)) ?? "year, by date";
    if (at >= 0) answers.set(kind + rest, row.get("Expected") ?? null);
  }
  for (const row of rowsOf(book, "Order list", "Line")) {
    const key = `${text(row, "Item")}, ${text(row, "Site")}, line ${text(row, "Line")}`;
    answers.set(`need by: ${key}`, row.get("Need by") ?? null);
    answers.set(`order by: ${key}`, row.get("Order by") ?? null);
    answers.set(`quantity: ${key}`, row.get("Quantity") ?? null);
    answers.set(`cost: ${key}`, row.get("Cost") ?? null);
  }
  return answers;
}
