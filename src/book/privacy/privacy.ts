import { isBlank, type Page, widest } from "../workbook/cells.ts";
import { PatientDataError } from "../workbook/errors.ts";
import { headingsAt, DEEPEST_HEADING } from "../headings/headings.ts";
import { allowsContacts, excuses, neighboursExcuse, patientHeading } from "./patient-words.ts";
import { isTick, shapeOf, type Shape } from "./patient-shapes.ts";
import { columnLetters, type Sheet } from "../workbook/snapshot.ts";

/** Values of a shape before a column is taken for it: one is enough where nothing else looks like it. */
const ENOUGH: Readonly<Record<Shape, number>> = {
  "social security numbers": 1,
  "e-mail addresses": 1,
  "phone numbers": 3,
  "web addresses": 3,
  "network addresses": 3,
  "names of persons": 5,
};
const MOSTLY = 0.6;

/**
 * Stops at a column that looks like data about patients: the identifiers of 45 CFR 164.514(b)(2), by
 * heading or by the shape of the values. Names the sheet and the heading, never a value.
 */
export function guardPatients(page: Page): void {
  const { sheet } = page;
  const headings = headingRowsOf(sheet);
  const lines = headings.map((row) => headingsAt(sheet, row)).flat();
  for (const table of sheet.tables) {
    lines.push({ first: table.area.firstRow, last: table.area.firstRow, texts: table.headings });
  }
  const contacts = allowsContacts(
    sheet.name,
    lines.map(({ texts }) => texts),
  );
  const headingRow = headings.at(-1) ?? -1;
  for (const { texts } of lines) {
    texts.forEach((text, column) => {
      const looksLike = patientHeading(text, contacts);
      if (looksLike === null) return;
      const others = texts.filter((_, other) => other !== column);
      if (neighboursExcuse(looksLike, others)) return;
      if (looksLike === "photographs" && onlyTicks(sheet, column, headingRow)) return;
      throw new PatientDataError(sheet.name, shown(text, column), looksLike);
    });
  }
  guardValues(page, headingRow, { lines, contacts });
}

/** Whether a column says of each row only whether there is something. */
function onlyTicks(sheet: Sheet, column: number, headingRow: number): boolean {
  const filled = sheet.values
    .slice(headingRow + 1)
    .map((cells) => cells[column] ?? null)
    .filter((value) => !isBlank(value));
  return (
    filled.length > 0 &&
    filled.every(
      (value) => typeof value === "boolean" || (typeof value === "string" && isTick(value)),
    )
  );
}

/** What a typed text looks like that must not be in the workbook; null for ordinary text. */
export function patientHint(text: string): Shape | null {
  return shapeOf(text);
}

/** The rows down to the one with most texts: titles have one cell, headings many. */
function headingRowsOf(sheet: Sheet): number[] {
  const rows: number[] = [];
  let most = 0;
  const width = widest(sheet.values);
  for (let row = 0; row < Math.min(DEEPEST_HEADING, sheet.values.length); row += 1) {
    const texts = (sheet.values[row] ?? []).filter(
      (value) => typeof value === "string" && value.trim() !== "",
    ).length;
    if (texts > most && (texts > 1 || width === 1)) {
      rows.push(row);
      most = texts;
    }
  }
  return rows;
}

/** A heading as it may be told: a column's letters where the heading itself might be a value. */
function shown(heading: string, column: number): string {
  const plain = heading.length <= 40 && !/[\d@,:;]/.test(heading);
  return plain && heading !== "" ? `"${heading}"` : columnLetters(column);
}

interface Known {
  readonly lines: readonly { readonly texts: readonly string[] }[];
  readonly contacts: boolean;
}

interface Seen {
  readonly counts: Map<Shape, number>;
  readonly names: Set<string>;
}

function guardValues(page: Page, headingRow: number, known: Known): void {
  const { sheet } = page;
  const columns = new Map<number, Seen>();
  for (let row = headingRow + 1; row < sheet.values.length; row += 1) {
    const cells = sheet.values[row] ?? [];
    for (let column = 0; column < cells.length; column += 1) {
      const value = cells[column] ?? null;
      if (typeof value !== "string") continue;
      const shape = shapeOf(value);
      if (shape === null) continue;
      const seen: Seen = columns.get(column) ?? { counts: new Map(), names: new Set() };
      columns.set(column, seen);
      seen.counts.set(shape, (seen.counts.get(shape) ?? 0) + 1);
      if (shape === "names of persons") seen.names.add(value);
    }
  }
  for (const [column, seen] of columns) {
    const heading =
      known.lines.map(({ texts }) => texts[column] ?? "").find((text) => text !== "") ?? "";
    const others = known.lines.flatMap(({ texts }) => texts.filter((_, other) => other !== column));
    const looksLike = suspicion(page, [column, headingRow], seen, { heading, others, ...known });
    if (looksLike !== null) {
      throw new PatientDataError(sheet.name, shown(heading, column), looksLike);
    }
  }
}

interface Named {
  readonly heading: string;
  /** The headings of the sheet's other columns. */
  readonly others: readonly string[];
  readonly contacts: boolean;
}

function suspicion(
  { sheet }: Page,
  [column, headingRow]: readonly [number, number],
  seen: Seen,
  { heading, others, contacts }: Named,
): Shape | null {
  for (const [shape, count] of seen.counts) {
    if (count < ENOUGH[shape]) continue;
    if (excuses(heading, shape, contacts) || neighboursExcuse(shape, others)) continue;
    if (shape !== "names of persons") return shape;
    const filled = sheet.values
      .slice(headingRow + 1)
      .filter((cells) => !isBlank(cells[column] ?? null)).length;
    if (seen.names.size >= ENOUGH[shape] && count >= filled * MOSTLY) return shape;
  }
  return null;
}
