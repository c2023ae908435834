import { listed } from "../records/problems.ts";
import { isLastDone } from "../records/positions.ts";
import { isBlank, type Page, textOf } from "../workbook/cells.ts";
import { columnLetters, type Sheet } from "../workbook/snapshot.ts";
import { ACCEPTED, type Matcher } from "./match.ts";

/** Columns that may hold what a turned sheet has for headings, and rows looked at in them. */
const TURNED_COLUMNS = 3;
const TURNED_ROWS = 60;
/** Fields that must stand one below the other, more than side by side in any row. */
const TURNED_FIELDS = 3;

/** Fields one below the other in a column of a sheet, and how many columns beside it are filled. */
interface Turned {
  readonly sheet: Sheet;
  readonly column: number;
  readonly beside: number;
  /** How many cards stand below each other. */
  readonly cards: number;
}

/**
 * What to do with sheets whose headings stand below each other: a column for each device, or a card of one device;
 * null where there is none.
 */
export function turnedShape(pages: readonly Page[], matcher: Matcher): string | null {
  const turned = pages.flatMap(({ sheet }) => turnedIn(sheet, matcher) ?? []);
  const [first] = turned;
  if (first === undefined) return null;
  const { sheet, column, beside } = first;
  const cards = turned.filter((one) => one.beside <= 1);
  if (first.cards > 1) {
    return `the sheet ${sheet.name} has cards of one device each below each other: make a sheet with a row for each device, its headings side by side`;
  }
  if (beside <= 1) {
    const names = listed(cards.map((one) => one.sheet.name));
    return cards.length === 1
      ? `the sheet ${names} is a card of one device: make a sheet with a row for each device, its headings side by side`
      : `the sheets ${names} are cards of one device each: make one sheet with a row for each device, its headings side by side`;
  }
  return `the sheet ${sheet.name} has its headings below each other in column ${columnLetters(column)} and a column for each device: copy it, paste it on a new sheet with Transpose, and keep one row for each device there`;
}

function turnedIn(sheet: Sheet, matcher: Matcher): Turned | null {
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
    return { sheet, column, beside, cards: labels.length / down.size };
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
