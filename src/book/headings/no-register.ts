import { isLastDone } from "../records/positions.ts";
import { type CellValue, columnLetters } from "../workbook/snapshot.ts";
import { lastFilledRow, type Page, quoted } from "../workbook/cells.ts";
import { type Evidence, evidenceOf } from "./column-profile.ts";
import { headingCandidates, type HeadingRows } from "./headings.ts";
import { ACCEPTED, type Matcher } from "./match.ts";
import { listed } from "../records/problems.ts";

/** A known heading says more than one more column. */
const KNOWN = 3;
const SHOWN = 6;

interface Promising {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly score: number;
}

/** Columns that may hold what a turned sheet has for headings, and rows looked at in them. */
const TURNED_COLUMNS = 3;
const TURNED_ROWS = 60;
/** Fields that must stand one below the other, more than side by side in any row. */
const TURNED_FIELDS = 3;

/** A sheet whose devices are columns and whose headings stand in one column, with what to do; else null. */
function turnedSheet(pages: readonly Page[], matcher: Matcher): string | null {
  for (const { sheet } of pages) {
    const rows = sheet.values.slice(0, TURNED_ROWS);
    const across = Math.max(0, ...rows.map((cells) => fieldsAmong(cells, matcher).size));
    for (let column = 0; column < TURNED_COLUMNS; column += 1) {
      const down = fieldsAmong(
        rows.map((cells) => cells[column] ?? null),
        matcher,
      );
      if (down.size < TURNED_FIELDS || down.size <= across) continue;
      if (![...down].some((key) => isLastDone(key))) continue;
      return `the sheet ${sheet.name} has its headings below each other in column ${columnLetters(column)} and a column for each device: copy it, paste it on a new sheet with Transpose, and keep one row for each device there`;
    }
  }
  return null;
}

function fieldsAmong(cells: readonly CellValue[], matcher: Matcher): ReadonlySet<string> {
  const texts = cells.filter((value) => typeof value === "string");
  const found = texts.flatMap((text) =>
    matcher.fields
      .filter((field) => matcher.likeness(text, field, null) >= ACCEPTED)
      .map(({ key }) => key),
  );
  return new Set(found);
}

/** The row most like a register's headings, and how to say which column is the device; null without one. */
export function wayOut(pages: readonly Page[], matcher: Matcher): string | null {
  const turned = turnedSheet(pages, matcher);
  if (turned !== null) return turned;
  let best: Promising | null = null;
  for (const page of pages) {
    for (const heading of headingCandidates(page.sheet)) {
      const score = promiseOf(heading, page, matcher);
      if (score > (best?.score ?? 0)) best = { page, heading, score };
    }
  }
  const device = best === null ? null : likelyDevice(best);
  if (best === null || device === null) return null;
  const { page, heading } = best;
  const beside = secondTable(heading);
  if (beside !== null) {
    return `the sheet ${page.sheet.name} has tables side by side, the headings of row ${heading.last + 1} again from column ${columnLetters(beside)}: move the second below the first, or to a sheet of its own`;
  }
  const texts = heading.texts.filter((text) => text !== "").map(quoted);
  return (
    `the most promising is row ${heading.last + 1} of the sheet ${page.sheet.name}, with ${listed(texts, SHOWN)}; ` +
    `write Device over the column that names the devices, or give --match "device=${device}"`
  );
}

/** Where the same headings begin anew in their row, two of them at least; null where they do not. */
function secondTable({ texts }: HeadingRows): number | null {
  const again = texts.flatMap((text, column) =>
    text !== "" && texts.indexOf(text) < column ? [column] : [],
  );
  return again.length < 2 ? null : (again[0] ?? null);
}

/** Two headings at least, with rows below; known ones count most. */
function promiseOf({ texts, last }: HeadingRows, page: Page, matcher: Matcher): number {
  const cells = page.sheet.values[last] ?? [];
  const written = texts.filter((text, column) => text !== "" && typeof cells[column] === "string");
  if (written.length < 2 || last >= lastFilledRow(page.sheet)) return 0;
  const known = written.filter((text) =>
    matcher.fields.some((field) => matcher.likeness(text, field, null) >= ACCEPTED),
  );
  return written.length + KNOWN * known.length;
}

/** The heading over the values that repeat least, dates apart; the first of equals. */
function likelyDevice({ page, heading }: Promising): string | null {
  const last = lastFilledRow(page.sheet);
  const columns = heading.texts.map((text, column) => ({
    text,
    names: text === "" ? 0 : namesThings(evidenceOf(page, column, heading.last + 1, last)),
  }));
  const [best] = columns.sort((one, other) => other.names - one.names);
  return best === undefined || best.names === 0 ? null : best.text;
}

function namesThings({ filled, dates, distinct }: Evidence): number {
  return filled === 0 ? 0 : distinct * (1 - dates);
}
