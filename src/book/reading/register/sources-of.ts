import { matcherFor } from "../../headings/match.ts";
import { type From, leftOf, type Upright, upright } from "../../headings/upright.ts";
import type { Device, Part } from "../../records/records.ts";
import { isBlank, keyOf, type Page, textOf } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import type { Found } from "./register.ts";
import { takenOver } from "./taken-over.ts";

/**
 * Sheets that the register was made of, whose devices stand otherwise than in rows: no date is later than that of the
 * register, and whatever else they say of its devices stands there too; each with what is left on it.
 */
export function sourcesOf(
  pages: readonly Page[],
  founds: readonly Found[],
  devices: readonly Device[],
  parts: readonly Part[],
): ReadonlyMap<Page, Page> {
  const matcher = matcherFor(parts);
  const shaped = pages.flatMap((page) => {
    const isRegister = founds.some((found) => found.page === page);
    const found = isRegister ? null : upright([page], matcher);
    return found === null ? [] : { page, found, rows: uprightOf(page, found) };
  });
  if (shaped.length === 0) return new Map();
  const isTaken = takenOver(devices, parts);
  const texts = new Set(founds.flatMap(({ page }) => textsOn(page)));
  const made = shaped.filter(
    ({ rows }) => textsOn(rows).every((text) => texts.has(text)) && isTaken(rows),
  );
  return new Map(made.map(({ page, found }) => [page, leftOf(page, found)]));
}

/** A sheet with a row for each of its devices. */
function uprightOf(page: Page, { rows }: Upright): Page {
  const values = rows.map((row) => row.map(valueOf));
  const formats = rows.map((row) => row.map(formatOf));
  return { ...page, sheet: { ...page.sheet, values, formats } };
}

function textsOn({ sheet }: Page): string[] {
  return sheet.values.flatMap((cells) => cells.flatMap(textsIn));
}

function textsIn(value: CellValue): string[] {
  return typeof value !== "string" || isBlank(value) ? [] : [keyOf(textOf(value))];
}

function valueOf(from: From): CellValue {
  if (from === null || typeof from === "string") return from;
  return from.page.sheet.values[from.row]?.[from.column] ?? null;
}

function formatOf(from: From): number {
  if (from === null || typeof from === "string") return 0;
  return from.page.sheet.formats[from.row]?.[from.column] ?? 0;
}
