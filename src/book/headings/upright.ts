import { tablesBeside } from "./no-register.ts";
import { type Turned, turnedSheets } from "./other-shapes.ts";
import { ACCEPTED, type Matcher } from "./match.ts";
import { isBlank, lastFilledRow, type Page, textOf, widest } from "../workbook/cells.ts";
import { cellKey, type CellValue } from "../workbook/snapshot.ts";

/** A cell of a sheet. */
export interface CellPlace {
  readonly page: Page;
  readonly row: number;
  readonly column: number;
}

/** A cell of the new sheet: one of a sheet that stays, words of ours, or nothing. */
export type From = CellPlace | string | null;

/** Rows of another sheet or of several, of which a register is made. */
export interface Upright {
  /** The sheets, as a sentence names them. */
  readonly pages: readonly Page[];
  /** How the devices stand there: "columns", "cards" or "tables side by side". */
  readonly shape: string;
  /** The first row of it has the headings, but of tables side by side, which bring theirs along. */
  readonly rows: readonly (readonly From[])[];
}

const DEVICE = "Device";

/**
 * A register whose devices stand in columns, on cards or in tables side by side, as rows of devices one below the
 * other; null where no sheet is of such a shape.
 */
export function upright(pages: readonly Page[], matcher: Matcher): Upright | null {
  const turned = turnedSheets(pages, matcher);
  const [first] = turned;
  if (first === undefined) return belowEachOther(pages, matcher);
  return first.beside > 1 ? columnsAsRows(first, matcher) : cardsAsRows(turned, matcher);
}

/** The column of each device as a row, what stands before them as headings. */
function columnsAsRows({ page, column, known }: Turned, matcher: Matcher): Upright {
  const { values } = page.sheet;
  const labels = values.flatMap((cells, row) =>
    isFilled(page, row, column) && cells.some((cell, at) => at > column && !isBlank(cell))
      ? row
      : [],
  );
  const named = nameRow({ page, column, known }, matcher);
  const from = labels.filter((row) => row > named);
  const rows = [named, ...from];
  const devices = Array.from({ length: widest(rows.map((row) => values[row])) }, (_, at) => at)
    .slice(column + 1)
    .filter((at) => rows.some((row) => isFilled(page, row, at)));
  const title = isDevice(textAt(page, named, column), matcher)
    ? { page, row: named, column }
    : DEVICE;
  return {
    pages: [page],
    shape: "columns",
    rows: [
      [title, ...from.map((row) => ({ page, row, column }))],
      ...devices.map((at) => rows.map((row) => ({ page, row, column: at }))),
    ],
  };
}

/**
 * The row that names the devices: the one that says so, else the last one above the known headings with different texts
 * in its columns. A title has none.
 */
function nameRow(
  { page, column, known }: Pick<Turned, "page" | "column" | "known">,
  matcher: Matcher,
): number {
  const namesIn = (row: number): string[] =>
    (page.sheet.values[row] ?? [])
      .slice(column + 1)
      .map(textOf)
      .filter((name) => name !== "");
  const isOfNames = (row: number): boolean => {
    const names = namesIn(row);
    return names.length > 1 && new Set(names).size === names.length;
  };
  const headings = known.filter((row) => namesIn(row).length > 0);
  const said = headings.find((row) => isDevice(textAt(page, row, column), matcher));
  if (said !== undefined) return said;
  const first = Math.min(...headings);
  for (let row = first - 1; row >= 0; row -= 1) if (isOfNames(row)) return row;
  return first;
}

/** Each card as a row: the sheets' own, or those below each other on one. */
function cardsAsRows(turned: readonly Turned[], matcher: Matcher): Upright {
  const cards = turned.filter(({ beside }) => beside <= 1).flatMap(cardsOf);
  const headings = [
    ...new Map(cards.flatMap(({ cells }) => cells).map(({ label }) => [label, label])).keys(),
  ];
  const device = headings.find((label) => isDevice(label, matcher));
  const rows = cards.map(({ page, cells }) => {
    const said = headings.map(
      (heading) => cells.find(({ label }) => label === heading)?.from ?? null,
    );
    return device === undefined ? [page.sheet.name, ...said] : said;
  });
  return {
    pages: [...new Set(cards.map(({ page }) => page))],
    shape: "cards",
    rows: [device === undefined ? [DEVICE, ...headings] : headings, ...rows],
  };
}

interface Card {
  readonly page: Page;
  readonly cells: readonly { readonly label: string; readonly from: CellPlace }[];
}

function cardsOf({ page, column, known, cards }: Turned): Card[] {
  const long = known.length / cards;
  return Array.from({ length: cards }, (_, at): Card => {
    const first = known[at * long] ?? 0;
    const next = known[(at + 1) * long] ?? page.sheet.values.length;
    const rows = page.sheet.values.flatMap((_row, row) =>
      row >= first && row < next && isFilled(page, row, column) ? row : [],
    );
    const cells = rows.map((row) => {
      const beside = (page.sheet.values[row] ?? []).findIndex(
        (_cell, to) => to > column && isFilled(page, row, to),
      );
      const from = { page, row, column: beside < 0 ? column + 1 : beside };
      return { label: textAt(page, row, column), from };
    });
    return { page, cells };
  });
}

/** Tables side by side below each other, each with its headings and what stands above them. */
function belowEachOther(pages: readonly Page[], matcher: Matcher): Upright | null {
  const beside = tablesBeside(pages, matcher);
  if (beside === null) return null;
  const { page, heading } = beside;
  const { texts } = heading;
  const first = texts.findIndex((text, at) => text !== "" && texts.lastIndexOf(text) > at);
  const starts = texts.flatMap((text, at) => (at >= first && text === texts[first] ? at : []));
  const last = lastFilledRow(page.sheet);
  const tables = starts.map((start, nth): From[][] => {
    const [from, to] = [nth === 0 ? 0 : start, starts[nth + 1] ?? texts.length];
    const columns = Array.from({ length: to - from }, (_, at) => from + at);
    const before = Array.from({ length: nth === 0 ? 0 : first }, (): From => null);
    const rows = Array.from({ length: last + 1 }, (_, row): From[] => [
      ...before,
      ...columns.map((column) => ({ page, row, column })),
    ]);
    const isFull = (cells: readonly From[]): boolean =>
      cells.some(
        (cell) =>
          cell !== null && typeof cell !== "string" && isFilled(page, cell.row, cell.column),
      );
    return [...rows.filter(isFull), []];
  });
  return { pages: [page], shape: "tables side by side", rows: tables.flat() };
}

/** A sheet without the cells that have become rows, and without the headings over them. */
export function leftOf(page: Page, { rows }: Upright): Page {
  const cells = rows.flat().filter(isPlace);
  const taken = new Set(
    cells.flatMap((from) => (from.page === page ? cellKey(from.row, from.column) : [])),
  );
  const headings = new Set(rows[0]);
  const isTaken = (value: CellValue, row: number, column: number): boolean =>
    taken.has(cellKey(row, column)) || headings.has(textOf(value));
  const values = page.sheet.values.map((line, row) =>
    line.map((value, column) => (isTaken(value, row, column) ? null : value)),
  );
  return { ...page, sheet: { ...page.sheet, values } };
}

/** Whether it is a cell of a sheet. */
export function isPlace(from: From): from is CellPlace {
  return from !== null && typeof from !== "string";
}

function isFilled(page: Page, row: number, column: number): boolean {
  return !isBlank(page.sheet.values[row]?.[column] ?? null);
}

function textAt(page: Page, row: number, column: number): string {
  return textOf(page.sheet.values[row]?.[column] ?? null);
}

function isDevice(text: string, matcher: Matcher): boolean {
  const device = matcher.fields.find(({ key }) => key === "device");
  return device !== undefined && matcher.likeness(text, device, null) >= ACCEPTED;
}
