import type { Field } from "../../headings/fields.ts";
import { type HeadingRows, headingCandidates } from "../../headings/headings.ts";
import { ACCEPTED, type Matcher, matcherOf } from "../../headings/match.ts";
import { listed, mendable, notice } from "../../records/problems.ts";
import type { Part, Problem, Reading } from "../../records/records.ts";
import { findSheet, headingColumn } from "../../sheets/layout.ts";
import { readRows } from "../../sheets/our-rows.ts";
import { OUR_SHEETS } from "../../sheets/our-sheets.ts";
import { PARTS } from "../../sheets/parts.ts";
import { showsResults } from "../../sheets/reports.ts";
import { keyOf, lastFilledRow, type Page, pagesOf, quoted, textOf } from "../../workbook/cells.ts";
import { moneyMeant } from "../../workbook/number-text.ts";
import { address, type Sheet, type Snapshot, valueAt } from "../../workbook/snapshot.ts";

const PRICE_HEADING = "Pack price";

const worded = (key: string, phrases: readonly string[]): Field => ({
  key,
  title: key,
  holds: "text",
  phrases,
  lesser: [],
  dated: [],
});
const ITEM = worded("item", ["item", "part", "part name", "article", "description", "product"]);
const PACK = worded("pack", [
  "pack",
  "pack size",
  "pack of",
  "packaging",
  "units pack",
  "per pack",
]);
const PRICE = worded("price", ["price", "pack price", "list price", "cost", "price pack"]);

/** A price of a list in the book that may be a part's. */
interface Listed {
  readonly sheet: string;
  readonly cell: string;
  readonly item: string;
  readonly price: number;
  /** Units the list says that it buys; null where it says nothing. */
  readonly pack: number | null;
}

/**
 * Prices of a price list in the book for parts that have none on Parts. They are offered with the cell they
 * are from and never taken by themselves: a list may give the price of one piece, or an old one.
 */
export function priceOffers(snapshot: Snapshot, reading: Reading): Problem[] {
  const parts = reading.ours.parts.filter(
    ({ supply, doubts }) => supply.packPrice === null && !doubts.includes("packPrice"),
  );
  const ours = new Set(OUR_SHEETS.map((layout) => findSheet(snapshot, layout)));
  const on = findSheet(snapshot, PARTS);
  if (parts.length === 0 || on === null) return [];
  const registers = new Set(reading.registers.map(({ sheet }) => sheet));
  const lists = pagesOf(snapshot).filter(
    ({ sheet }) => !ours.has(sheet) && !showsResults(sheet) && !registers.has(sheet.name),
  );
  const matcher = matcherOf([
    ITEM,
    PRICE,
    PACK,
    ...parts.map((part) => worded(part.code, namesOf(part))),
  ]);
  const prices = lists.flatMap((page) => pricesOn(page, parts, matcher));
  return parts.flatMap((part) => {
    const own = prices.filter((one) => one.part === part);
    return own.length === 0 ? [] : offer(on, part, own);
  });
}

function namesOf({ name }: Part): string[] {
  return [name.toLowerCase()];
}

function pricesOn(
  page: Page,
  parts: readonly Part[],
  matcher: Matcher,
): (Listed & { readonly part: Part })[] {
  const { sheet } = page;
  for (const heading of headingCandidates(sheet)) {
    const item = columnOf(heading, ITEM, matcher);
    const price = columnOf(heading, PRICE, matcher);
    if (item === null || price === null) continue;
    const pack = columnOf(heading, PACK, matcher);
    const found: (Listed & { part: Part })[] = [];
    for (let row = heading.last + 1; row <= lastFilledRow(sheet); row += 1) {
      const text = textOf(valueAt(sheet, row, item));
      const amount = amountAt(sheet, row, price);
      const part = parts.find((one) => isNamed(text, one, matcher));
      if (part === undefined || amount === null) continue;
      const buys = pack === null ? null : unitsAt(sheet, row, pack);
      const cell = address(row, price);
      found.push({ sheet: sheet.name, cell, item: text, price: amount, pack: buys, part });
    }
    if (found.length > 0) return found;
  }
  return [];
}

function columnOf({ texts }: HeadingRows, field: Field, matcher: Matcher): number | null {
  const column = texts.findIndex((text) => matcher.likeness(text, field, null) >= ACCEPTED);
  return column < 0 ? null : column;
}

function isNamed(text: string, part: Part, matcher: Matcher): boolean {
  if (text === "") return false;
  if (keyOf(text) === keyOf(part.code)) return true;
  const field = matcher.fields.find(({ key }) => key === part.code);
  return field !== undefined && matcher.likeness(text, field, null) >= ACCEPTED;
}

/** A price above nothing, in a number or in text that surely means one. */
function amountAt(sheet: Sheet, row: number, column: number): number | null {
  const value = valueAt(sheet, row, column);
  const amount = typeof value === "string" ? moneyMeant(value) : value;
  return typeof amount === "number" && amount > 0 ? amount : null;
}

/** The first number of a cell such as "10" or "box of 10"; null where there is none. */
function unitsAt(sheet: Sheet, row: number, column: number): number | null {
  const [digits] = /\d+/.exec(textOf(valueAt(sheet, row, column))) ?? [];
  return digits === undefined ? null : Number(digits);
}

function offer(parts: Sheet, { code, name, supply }: Part, found: readonly Listed[]): Problem[] {
  const column = headingColumn(parts, PRICE_HEADING);
  const row = readRows(parts, PARTS).find(
    ({ values }) => keyOf(textOf(values.get("Code") ?? null)) === keyOf(code),
  )?.row;
  const [first] = found;
  if (first === undefined || column === null || row === undefined) return [];
  const place = { sheet: parts.name, row, column, heading: PRICE_HEADING };
  const which = found.map(
    ({ sheet, cell, item, price, pack }) =>
      `${price} for ${pack === null ? "" : `${pack} of `}${quoted(item)} (${sheet}!${cell})`,
  );
  const cause = `${name} has no price; the book lists ${listed(which)}.`;
  const pack = `a pack of ${supply.pack} ${supply.unit}`;
  if (found.some((one) => one.pack !== null && one.pack !== supply.pack)) {
    const fix = `Parts has ${pack}: type the pack of the list there, then its price; none is taken by itself.`;
    return [notice("price offered", place, cause, fix)];
  }
  if (new Set(found.map(({ price }) => price)).size > 1) {
    const fix = `Type the one that is the price of ${pack}; none is taken by itself.`;
    return [notice("price offered", place, cause, fix)];
  }
  const fix = `If that is the price of ${pack}, take it with mend --prices or type it; it is not taken by itself.`;
  return [mendable(notice("price offered", place, cause, fix), first.price)];
}
