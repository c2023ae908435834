import { isBlank, textOf } from "../workbook/cells.ts";
import { isLegend } from "./legend-row.ts";
import type { Area, CellValue, Sheet } from "../workbook/snapshot.ts";

/** A row, or two rows, that may be the heading of a table. */
export interface HeadingRows {
  /** First and last row of the heading. */
  readonly first: number;
  readonly last: number;
  /** One heading a column; two rows are joined with a space. */
  readonly texts: readonly string[];
  /** The first row of what stands above it alone, where another table ends before. */
  readonly above?: number;
}

/** How far down a table may begin. */
export const DEEPEST_HEADING = 60;
const LONGEST_HEADING = 80;
const MOST_COLUMNS = 400;

/** Every row near the top that could be a heading, alone and joined with the row above it. */
export function headingCandidates(sheet: Sheet): HeadingRows[] {
  const found: HeadingRows[] = [];
  const deepest = Math.min(DEEPEST_HEADING, sheet.values.length);
  for (let row = 0; row < deepest; row += 1) {
    // What merged headings are divided into says which of their columns is meant.
    const isLike = isHeadingLike(sheet.values[row]) || isDivided(sheet, row - 1);
    if (!isLike || isDivided(sheet, row)) continue;
    // What is said under headings of how to fill them is a part of them.
    if (!isLegend(sheet.values[row], sheet.values[row + 1])) found.push(...headingsAt(sheet, row));
    else if (!isLegend(sheet.values[row - 1], sheet.values[row])) {
      found.push(...headingsAt(sheet, row).map((one) => ({ ...one, last: row + 1 })));
    }
  }
  return found;
}

/** A year as a heading. */
const isYear = (value: CellValue): boolean =>
  typeof value === "number" && Number.isInteger(value) && value >= 1990 && value < 2100;

/** Whether all that the next row holds are texts or years under merged headings, two under one of them. */
function isDivided({ values, merges }: Sheet, row: number): boolean {
  const over = merges.filter((area) => isAcross(area, row) && area.lastRow === row);
  if (over.length === 0) return false;
  const filled = [...(values[row + 1] ?? []).entries()].filter(([, value]) => !isBlank(value));
  const areas = filled.map(([column]) =>
    over.find((area) => column >= area.firstColumn && column <= area.lastColumn),
  );
  return (
    filled.every(
      ([, value], at) => (typeof value === "string" || isYear(value)) && areas[at] !== undefined,
    ) && new Set(areas).size < areas.length
  );
}

/** The heading that ends in this row: the row alone, and joined with its parents where it has some. */
export function headingsAt(sheet: Sheet, row: number): HeadingRows[] {
  const single = { first: row, last: row, texts: headingTexts(sheet.values[row] ?? []) };
  const joined = joinedTexts(sheet, row, 1);
  if (joined === null) return [single];
  const two = { first: row - 1, last: row, texts: joined };
  const isGroups = (sheet.values[row - 2] ?? []).filter((cell) => !isBlank(cell)).length > 1;
  const grouped = isGroups && joinedTexts(sheet, row - 1, 1) && joinedTexts(sheet, row, 2);
  return grouped ? [single, two, { ...two, first: row - 2, texts: grouped }] : [single, two];
}

/** Whether a heading only says again what one above it says: two of its texts, and half of them. */
export function repeats(heading: HeadingRows, above: HeadingRows): boolean {
  if (above.last >= heading.first) return false;
  const filled = heading.texts.filter((text) => text !== "").length;
  const same = heading.texts.filter(
    (text, column) => text !== "" && text.toLowerCase() === above.texts[column]?.toLowerCase(),
  ).length;
  return same >= 2 && same * 2 >= filled;
}

function isHeadingLike(cells: readonly CellValue[] | undefined): boolean {
  if (cells === undefined) return false;
  let texts = 0;
  for (let column = 0; column < cells.length && column < MOST_COLUMNS; column += 1) {
    const value = cells[column];
    if (typeof value === "string" && value.length <= LONGEST_HEADING && value.trim() !== "") {
      texts += 1;
    }
    if (texts > 0) break;
  }
  return texts > 0;
}

function headingTexts(cells: readonly CellValue[]): string[] {
  return cells.slice(0, MOST_COLUMNS).map((value) => {
    const text = textOf(value);
    return text.length <= LONGEST_HEADING ? text : "";
  });
}

/** Headings joined with those in so many rows above, or null where the row above is no row of parents. */
function joinedTexts(sheet: Sheet, row: number, rows: number): string[] | null {
  const above = row > 0 ? sheet.values[row - 1] : undefined;
  if (above === undefined || above.every(isBlank)) return null;
  const children = headingTexts(sheet.values[row] ?? []);
  const parents = parentTexts(sheet, row - 1, children);
  const groups = rows > 1 ? parentTexts(sheet, row - 2, children) : [];
  const columns = [...Array(Math.max(children.length, parents.length, groups.length)).keys()];
  const isShared = columns.some(
    (column) => parents[column] && children[column] && isBlank(above[column] ?? null),
  );
  if (!isShared && !tellsApart(parents, children)) return null;
  return columns.map((column) => {
    const child = children[column] ?? "";
    const lines = [groups[column], parents[column], child];
    if (child !== "") return lines.filter(Boolean).join(" ");
    // Without a child only what stands over this column alone is its heading.
    const own = [parents[column], groups[column]];
    return (
      own.find((text, at) => text && !isBlank(sheet.values[row - 1 - at]?.[column] ?? null)) ?? ""
    );
  });
}

/** Whether one child stands below two parents: "replaced" below "Electrode set" and below "Ear cushion". */
function tellsApart(parents: readonly string[], children: readonly string[]): boolean {
  const over = new Map<string, string>();
  return children.some((child, column) => {
    const parent = parents[column] ?? "";
    if (child === "" || parent === "") return false;
    const first = over.get(child.toLowerCase()) ?? parent;
    over.set(child.toLowerCase(), first);
    return first !== parent;
  });
}

/** The parent over each column: merged cells spread to their right edge, others over blank neighbours. */
export function parentTexts(sheet: Sheet, row: number, children: readonly string[]): string[] {
  const texts = headingTexts(sheet.values[row] ?? []);
  const merges = sheet.merges.filter((area) => isAcross(area, row));
  if (merges.length > 0) {
    for (const area of merges) {
      const text = texts[area.firstColumn] ?? "";
      const last = Math.min(area.lastColumn, MOST_COLUMNS - 1);
      for (let column = area.firstColumn; column <= last; column += 1) texts[column] = text;
    }
    return Array.from(texts, (text: string | undefined) => text ?? "");
  }
  for (let column = 1; column < children.length; column += 1) {
    const before = texts[column - 1] ?? "";
    if ((texts[column] ?? "") === "" && children[column] !== "" && children[column - 1] !== "") {
      texts[column] = before;
    }
  }
  return texts;
}

function isAcross(area: Area, row: number): boolean {
  return area.firstRow <= row && area.lastRow >= row && area.lastColumn > area.firstColumn;
}
