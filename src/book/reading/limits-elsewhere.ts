import { ANY_INTERVAL } from "../headings/fields.ts";
import { CERTAIN, type Matcher, matcherFor } from "../headings/match.ts";
import { statedUnit } from "../headings/own-limits.ts";
import { ownDueField, ownIntervalField } from "../records/own-limits.ts";
import { notice, wholeSheet } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";
import { isBlank, type Page, quoted, textOf } from "../workbook/cells.ts";
import { address, type CellValue } from "../workbook/snapshot.ts";
import type { Found } from "./register.ts";

const ROWS = 60;
const COLUMNS = 20;
const LONGEST = 160;
/** "Every 2 months" in the languages registers are read in. */
const EVERY =
  /(?<!\p{L})(?:every|alle|tou(?:te)?s les|cada|ogni|elke|om de|co|a cada)\s+(?:\d+|\p{L}+)\s+(?:day|week|month|tag|woche|monat|jour|semaine|mois|d[ií]a|seman|mes|m[eê]s|giorn|settiman|mes[ei]|dag|week|weken|maand|dni|tygod|miesi)/iu;

/**
 * Limits of the programme's own that stand beside the register: in its titles, or on another sheet. They are in no
 * figure, and local policy may be shorter than ours.
 */
export function limitsElsewhere(
  pages: readonly Page[],
  founds: readonly Found[],
  parts: readonly Part[],
): Problem[] {
  const matcher = matcherFor(parts);
  const fields = new Map(matcher.fields.map((field) => [field.key, field]));
  const says: Says = (heading, key) => {
    const field = fields.get(key);
    return field !== undefined && matcher.likeness(heading, field, null) >= CERTAIN;
  };
  const limits = parts.filter(({ task }) => !task);
  return pages.flatMap((page) => {
    const register = founds.find((found) => found.page === page);
    const rows = page.sheet.values.slice(0, register?.heading.first ?? ROWS);
    const stated = statedIn({ rows, matcher, says, parts: limits });
    if (stated === null) return [];
    const { name } = page.sheet;
    const { row, column } = stated;
    const text = quoted(textOf(rows[row]?.[column] ?? null));
    return [
      notice(
        "own limit",
        { ...wholeSheet(name), row, column },
        `${name}!${address(row, column)} says ${text}: limits of your own that stand there are not used, and may be shorter than ours.`,
        "Type them on Parts, or give the register a column for each part, with its interval or its next due date.",
      ),
    ];
  });
}

type Says = (heading: string, key: string) => boolean;

interface Look {
  readonly says: Says;
  readonly rows: readonly (readonly CellValue[])[];
  readonly matcher: Matcher;
  readonly parts: readonly Part[];
}

interface Place {
  readonly row: number;
  readonly column: number;
}

/** The first cell that states a limit of a part; null without one. */
function statedIn(look: Look): Place | null {
  for (const [row, cells] of look.rows.entries()) {
    for (const [column, value] of cells.slice(0, COLUMNS).entries()) {
      if (typeof value !== "string" || isBlank(value) || value.length > LONGEST) continue;
      if (look.parts.some((part) => states(look, part, { row, column }))) return { row, column };
    }
  }
  return null;
}

function states({ rows, matcher, says }: Look, part: Part, { row, column }: Place): boolean {
  const text = textOf(rows[row]?.[column] ?? null);
  const beside = rows[row]?.[column + 1] ?? null;
  const below = rows[row + 1]?.[column] ?? null;
  if (says(text, ownDueField(part))) return typeof below === "number";
  if (says(text, ownIntervalField(part))) {
    return [beside, below].some((value) => isShorter(value, text, part));
  }
  const isNamed = (words: string): boolean => says(`${words} interval`, ownIntervalField(part));
  if (EVERY.test(text)) return text.split(EVERY_END).some(isNamed);
  if (!isNamed(text)) return false;
  // A table of parts, with an interval in each row.
  return (rows[row] ?? []).some((value, at) => {
    const heading = rows.slice(0, row).map((cells) => textOf(cells[at] ?? null));
    return heading.some(
      (over) =>
        matcher.likeness(over, ANY_INTERVAL, null) >= CERTAIN && isShorter(value, over, part),
    );
  });
}

/** Between a part's name and what is said of it. */
const EVERY_END = /[:.,;()\n]| (?:are|is|to be|every|alle|tous|toutes|cada|ogni|elke|co) /iu;

/** A text may be anything; a number of months that our longest interval does not exceed changes nothing. */
function isShorter(value: CellValue, heading: string, { longest }: Part): boolean {
  if (typeof value === "string") return /\d/.test(value);
  if (typeof value !== "number") return false;
  const unit = statedUnit(heading);
  return (unit !== null && (unit.times !== 1 || unit.by !== 1)) || value < (longest ?? Infinity);
}
