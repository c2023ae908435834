import { civilDate, civilDayOrNull, DATE_SYSTEM_SHIFT, type Day, isoText } from "../../core/day.ts";
import type { ProblemKind } from "../records/problem-kinds.ts";
import type { Site } from "../records/records.ts";
import { textOf } from "../sheets/layout.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { type Chance, chance } from "./chance.ts";
import { type DraftSheet, EQUIPMENT, FIRST_DATA_ROW, HEADER_ROW } from "./draft.ts";
import type { LoggedJob } from "./life.ts";
import { MONTHS, type Programme, REPORT_DATE } from "./programme.ts";

/** One planted fault, as people find it: the row counts from one, null means the whole column or sheet. */
export interface Answer {
  readonly kind: ProblemKind;
  readonly sheet: string;
  readonly row: number | null;
  readonly heading: string;
}

interface Book {
  readonly programme: Programme;
  readonly equipment: DraftSheet;
  readonly counts: DraftSheet;
  readonly jobs: LoggedJob[];
  readonly sites: Site[];
}

/** A fault whose row is still an array, because rows move while others are put in. */
interface Planted {
  readonly kind: ProblemKind;
  readonly sheet: DraftSheet;
  readonly cells: readonly CellValue[] | null;
  readonly column: number;
}

interface Planting {
  readonly book: Book;
  readonly random: Chance;
  readonly planted: Planted[];
  /** Register rows of devices in service that no fault has touched yet, in random order. */
  readonly free: CellValue[][];
}

/** Plants the faults of an untidy year into the book, one a cell, and says where each one is. */
export function plantFaults(book: Book, seed: number): Answer[] {
  const random = chance(seed + 1);
  const rows = book.equipment.rows.slice(FIRST_DATA_ROW);
  const inService = rows.filter((cells) => cells[EQUIPMENT.status] === "In service");
  const planting: Planting = { book, random, planted: [], free: shuffled(inService, random) };
  // Those that need a certain device come first, while there is one.
  plantSites(planting);
  plantDates(planting);
  plantIds(planting);
  plantCounts(planting);
  const logged = plantJobs(planting);
  plantLayout(planting);
  return [...planting.planted.map((fault) => answerOf(fault)), ...logged];
}

function shuffled<T>(items: readonly T[], random: Chance): T[] {
  return items
    .map((item) => ({ item, key: random.share() }))
    .sort((one, other) => one.key - other.key)
    .map(({ item }) => item);
}

function take(planting: Planting, fits: (cells: CellValue[]) => boolean = () => true): CellValue[] {
  const at = planting.free.findIndex(fits);
  const [cells] = at < 0 ? [] : planting.free.splice(at, 1);
  if (cells === undefined) throw new Error("the demonstration has too few devices for its faults");
  return cells;
}

function plant(planting: Planting, kind: ProblemKind, cells: CellValue[], column: number): void {
  planting.planted.push({ kind, sheet: planting.book.equipment, cells, column });
}

const TEXT_DATES = 12;
const SWAPPED_DATES = 6;

function plantDates(planting: Planting): void {
  for (let count = 0; count < SWAPPED_DATES; count += 1) {
    const column = count % 2 === 0 ? EQUIPMENT.SET : EQUIPMENT.CUSHION;
    const cells = take(planting, (row) => swapped(row[column]) !== null);
    cells[column] = swapped(cells[column]);
    plant(planting, "day and month swapped", cells, column);
  }
  // Two to a row, for the devices are few.
  for (let count = 0; count < TEXT_DATES; count += 2) {
    const cells = take(planting);
    for (const column of [EQUIPMENT.SET, EQUIPMENT.CUSHION]) {
      cells[column] = asText(cells[column]);
      plant(planting, "text date", cells, column);
    }
  }
  const early = take(planting);
  early[EQUIPMENT.SET] = Number(early[EQUIPMENT.commissioned]) - 40;
  plant(planting, "before commissioning", early, EQUIPMENT.SET);
  const future = take(planting);
  future[EQUIPMENT.CUSHION] = REPORT_DATE + 31;
  plant(planting, "future date", future, EQUIPMENT.CUSHION);
  shiftColumn(planting, EQUIPMENT.CALIBRATION);
}

/** A column pasted from a workbook of the other date system: every date four years and a day early. */
function shiftColumn(planting: Planting, column: number): void {
  const { equipment } = planting.book;
  for (const cells of equipment.rows.slice(FIRST_DATA_ROW)) {
    cells[column] = Number(cells[column]) - DATE_SYSTEM_SHIFT;
  }
  planting.planted.push({ kind: "1,462-day shift", sheet: equipment, cells: null, column });
}

function swapped(value: CellValue | undefined): Day | null {
  if (typeof value !== "number") return null;
  const { year, month, dayOfMonth } = civilDate(value as Day);
  return dayOfMonth === month ? null : civilDayOrNull(year, dayOfMonth, month);
}

function asText(value: CellValue | undefined): string {
  const { year, month, dayOfMonth } = civilDate(value as Day);
  return `${String(dayOfMonth).padStart(2, "0")}/${String(month).padStart(2, "0")}/${year}`;
}

function plantIds(planting: Planting): void {
  const spaces = [" ", "\u00a0", "  ", "\u00a0 ", " \u00a0"];
  for (const space of spaces) {
    const cells = take(planting);
    cells[EQUIPMENT.device] = `${textOf(cells[EQUIPMENT.device])}${space}`;
    plant(planting, "stray spaces", cells, EQUIPMENT.device);
  }
  for (let count = 0; count < 2; count += 1) {
    const original = take(planting);
    const copy = [...original];
    const { rows } = planting.book.equipment;
    rows.splice(rows.indexOf(original) + 3, 0, copy);
    // Told at both rows: nobody can say which one is right.
    plant(planting, "duplicate device", original, EQUIPMENT.device);
    plant(planting, "duplicate device", copy, EQUIPMENT.device);
  }
}

function plantSites(planting: Planting): void {
  const { sites } = planting.book;
  const at = sites.findIndex((site) => site.code === "S06");
  const renamed = sites[at];
  if (renamed) sites[at] = { ...renamed, earlierNames: ["S06 old"] };
  const old = take(planting, (cells) => cells[EQUIPMENT.site] === "S06");
  old[EQUIPMENT.site] = "S06 old";
  plant(planting, "earlier site name", old, EQUIPMENT.site);
  const unknown = take(planting);
  unknown[EQUIPMENT.site] = "S0B";
  plant(planting, "unknown site", unknown, EQUIPMENT.site);
}

/** Column of a fault that is the whole row's. */
const WHOLE_ROW = -1;

/** First column of the counts that holds a month. */
const FIRST_COUNT = 2;

function plantCounts({ book, random, planted }: Planting): void {
  const { counts } = book;
  const rows = shuffled(
    counts.rows
      .slice(FIRST_DATA_ROW)
      .filter(([device]) => device !== "Total")
      .filter((cells) => cells.slice(FIRST_COUNT).every((value) => Number(value) >= 10)),
    random,
  );
  const next = (kind: ProblemKind, month: number, change: (value: number) => CellValue): void => {
    const cells = rows.pop();
    if (cells === undefined) throw new Error("the demonstration has too few counts for its faults");
    const column = FIRST_COUNT + month;
    cells[column] = change(Number(cells[column]));
    planted.push({ kind, sheet: counts, cells, column });
  };
  for (let device = 0; device < 2; device += 1) {
    const cells = rows.pop();
    if (cells === undefined) continue;
    cells.fill(null, FIRST_COUNT + MONTHS - 2, FIRST_COUNT + MONTHS);
    planted.push({ kind: "late count", sheet: counts, cells, column: WHOLE_ROW });
  }
  for (const month of [6, 11, 17]) next("count missing", month, () => null);
  next("count below zero", 10, (value) => -value);
  next("count out of line", 12, (value) => value * 10);
  next("text count", 15, (value) => String(value));
}

/** Faults of the Job log; its rows are jobs in order, below title and headings. */
function plantJobs({ book, random, free }: Planting): Answer[] {
  const answers: Answer[] = [];
  const device = textOf(random.pick(free)[EQUIPMENT.device]);
  const add = (kind: ProblemKind, heading: string, job: Partial<LoggedJob>): void => {
    book.jobs.push({
      date: (REPORT_DATE - 3) as Day,
      device,
      part: "SET",
      job: "replaced",
      finding: "",
      complete: "yes",
      lot: "L2470",
      by: "LS2",
      ...job,
    });
    answers.push({ kind, sheet: "Job log", row: FIRST_DATA_ROW + book.jobs.length, heading });
  };
  add("partial set", "Complete set", { complete: "" });
  add("unknown part", "Part", { part: "CABLE", job: "inspected", complete: "" });
  add("unknown device", "Device", { device: "VR-999", job: "inspected", complete: "" });
  return answers;
}

/** The layout faults: two-row heading, subtotal inside the data, hidden rows, a formula typed over. */
function plantLayout(planting: Planting): void {
  const { equipment } = planting.book;
  const typedOver = take(planting);
  typedOver[EQUIPMENT.years] = 9.9;
  plant(planting, "overwritten formula", typedOver, EQUIPMENT.years);
  const hidden = [take(planting), take(planting)];
  const subtotal: CellValue[] = [
    "Subtotal",
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    null,
    9,
  ];
  equipment.rows.splice(FIRST_DATA_ROW + 9, 0, subtotal);
  plant(planting, "subtotal row", subtotal, WHOLE_ROW);
  const lower: CellValue[] = equipment.rows[HEADER_ROW]?.map(() => null) ?? [];
  lower[EQUIPMENT.SET] = "Electrode set";
  lower[EQUIPMENT.CUSHION] = "Ear cushion";
  const upper = equipment.rows[HEADER_ROW] ?? [];
  upper[EQUIPMENT.SET] = "Last replaced";
  upper[EQUIPMENT.CUSHION] = null;
  equipment.rows.splice(HEADER_ROW + 1, 0, lower);
  equipment.headerRows = [HEADER_ROW, HEADER_ROW + 1];
  equipment.merges.push({
    firstRow: HEADER_ROW,
    firstColumn: EQUIPMENT.SET,
    lastRow: HEADER_ROW,
    lastColumn: EQUIPMENT.CUSHION,
  });
  plant(planting, "two-row heading", lower, WHOLE_ROW);
  equipment.hiddenRows.push(...hidden.map((cells) => equipment.rows.indexOf(cells)));
  planting.planted.push({ kind: "hidden rows", sheet: equipment, cells: null, column: WHOLE_ROW });
  const bareRow = equipment.rows.indexOf(typedOver);
  equipment.bare.add(`${bareRow} ${EQUIPMENT.years}`);
  equipment.bare.add(`${equipment.rows.indexOf(subtotal)} ${EQUIPMENT.years}`);
}

function answerOf({ kind, sheet, cells, column }: Planted): Answer {
  const row = cells === null ? null : sheet.rows.indexOf(cells as CellValue[]) + 1;
  return { kind, sheet: sheet.name, row, heading: headingAt(sheet, column) };
}

/** A heading as it reads: merged words count for every column below them, months as yyyy-mm. */
function headingAt(sheet: DraftSheet, column: number): string {
  const words = sheet.headerRows.map((row) => {
    const merge = sheet.merges.find(
      (area) => area.firstRow === row && area.firstColumn <= column && column <= area.lastColumn,
    );
    const word = sheet.rows[row]?.[merge?.firstColumn ?? column] ?? null;
    return typeof word === "number" ? isoText(word as Day).slice(0, 7) : textOf(word);
  });
  return words.filter((word) => word !== "").join(" ");
}
