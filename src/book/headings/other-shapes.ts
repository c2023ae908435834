import { listed } from "../records/problems.ts";
import { isLastDone } from "../records/positions.ts";
import { isBlank, type Page, textOf } from "../workbook/cells.ts";
import { columnLetters } from "../workbook/snapshot.ts";
import { ACCEPTED, type Matcher } from "./match.ts";

/** Columns that may hold what a turned sheet has for headings, and rows looked at in them. */
const TURNED_COLUMNS = 3;
const TURNED_ROWS = 60;
/** Fields that must stand one below the other, more than side by side in any row. */
const TURNED_FIELDS = 3;

/** Fields one below the other in a column of a sheet, and how many columns beside it are filled. */
export interface Turned {
  readonly page: Page;
  readonly column: number;
  /** Rows whose texts in that column are headings that are known. */
  readonly known: readonly number[];
  readonly beside: number;
  /** How many cards stand below each other. */
  readonly cards: number;
}

/** Sheets whose headings stand below each other: a column for each device, or a card of one device. */
export function turnedSheets(pages: readonly Page[], matcher: Matcher): Turned[] {
  return pages.flatMap((page) => turnedIn(page, matcher) ?? []);
}

/** What makes a register of such sheets, and leaves them as they are. */
const MADE = "npx sparespan new OUT.xlsx --from BOOK.xlsx makes a sheet with a row for each device";

/**
 * What to do with sheets whose headings stand below each other: a column for each device, or a card of one device;
 * null where there is none.
 */
export function turnedShape(pages: readonly Page[], matcher: Matcher): string | null {
  const turned = turnedSheets(pages, matcher);
  const [first] = turned;
  if (first === undefined) return null;
  const {
    page: { sheet },
    column,
    beside,
  } = first;
  const cards = turned.filter((one) => one.beside <= 1);
  if (first.cards > 1) {
    return `the sheet ${sheet.name} has cards of one device each below each other: ${MADE}; or make one by hand, its headings side by side`;
  }
  if (beside <= 1) {
    const names = listed(cards.map((one) => one.page.sheet.name));
    return cards.length === 1
      ? `the sheet ${names} is a card of one device: ${MADE}; or make one by hand, its headings side by side`
      : `the sheets ${names} are cards of one device each: ${MADE}; or make one by hand, its headings side by side`;
  }
  return `the sheet ${sheet.name} has its headings below each other in column ${columnLetters(column)} and a column for each device: ${MADE}; or copy it, paste it on a new sheet with Transpose, and keep one row for each device there`;
}

function turnedIn(page: Page, matcher: Matcher): Turned | null {
  const { sheet } = page;
  const rows = sheet.values.slice(0, TURNED_ROWS);
  const across = Math.max(
    0,
    ...rows.map((cells) => new Set(fieldsAmong(cells.map(textOf), matcher).values()).size),
  );
  for (let column = 0; column < TURNED_COLUMNS; column += 1) {
    const texts = rows.map((cells) => textOf(cells[column] ?? null));
    const down = fieldsAmong(texts, matcher);
    const fields = new Set(down.values());
    if (fields.size < TURNED_FIELDS || fields.size <= across) continue;
    if (![...fields].some(isLastDone)) continue;
    const labels = texts.filter((text) => down.has(text));
    const labelled = rows.filter((cells) => down.has(textOf(cells[column] ?? null)));
    const filled = labelled.map(
      (cells) => cells.filter((cell, at) => at > column && !isBlank(cell)).length,
    );
    const beside = Math.max(...filled);
    // What is said again and again are the lines of a log, if not cards below each other, each with all of it.
    const isCards =
      fields.has("device") &&
      beside <= 1 &&
      labels.every((text, at) => text === labels[at % down.size]);
    if (labels.length > down.size && !isCards) continue;
    const known = texts.flatMap((text, row) => (down.has(text) ? row : []));
    return { page, column, known, beside, cards: labels.length / down.size };
  }
  return null;
}

/** Texts that say a field, each with the field it says best. */
function fieldsAmong(texts: readonly string[], matcher: Matcher): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  for (const text of new Set(texts)) {
    if (text === "") continue;
    let best = ACCEPTED;
    for (const field of matcher.fields) {
      const like = matcher.likeness(text, field, null);
      if (like < best || (like === best && found.has(text))) continue;
      best = like;
      found.set(text, field.key);
    }
  }
  return found;
}
