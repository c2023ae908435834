import { ANY_INTERVAL } from "../../headings/fields.ts";
import { CERTAIN, type Matcher, matcherFor } from "../../headings/match.ts";
import { statedUnit } from "../../headings/own-limits.ts";
import { type RuleReader, ruleReader } from "../../headings/rule-text.ts";
import { ownDueField, ownIntervalField } from "../../records/own-limits.ts";
import { notice, wholeSheet } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { isLastDone } from "../../records/positions.ts";
import { isBlank, type Page, quoted, textOf } from "../../workbook/cells.ts";
import { address, type CellValue } from "../../workbook/snapshot.ts";
import type { Found } from "../register/register.ts";

const ROWS = 60;
const COLUMNS = 20;
const LONGEST = 160;
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
  const rules = ruleReader(limits);
  return pages.flatMap((page) => {
    const register = founds.find((found) => found.page === page);
    const rows = page.sheet.values.slice(0, register?.heading.first ?? ROWS);
    const stated =
      statedIn({ rows, matcher, says, rules, parts: limits }) ?? besideRows(register, rules);
    if (stated === null) return [];
    const { name } = page.sheet;
    const { row, column } = stated;
    const text = textOf(page.sheet.values[row]?.[column] ?? null);
    // Months that ours never exceeds change nothing.
    const kind = rules.isShorter(text) ? "own limit unclear" : "own limit";
    return [
      notice(
        kind,
        { ...wholeSheet(name), row, column },
        `${name}!${address(row, column)} says ${quoted(text)}: limits of your own that stand there are not used, and may be shorter than ours.`,
        "Type them on Parts, or give the register a column for each part, with its interval or its next due date.",
      ),
    ];
  });
}

/** The first rule below, beside or among the rows of a register, or in a row of rules under its headings. */
function besideRows(found: Found | undefined, rules: RuleReader): Place | null {
  if (found === undefined) return null;
  const { page, heading, register } = found;
  const isDevice = new Set(register.rows);
  const dated = new Set(
    register.matches.flatMap(({ field, column }) => (isLastDone(field) ? [column] : [])),
  );
  const isRule = (row: number, column: number, text: string): boolean => {
    const isUnder = row > heading.first && row <= heading.last + 1;
    if (isUnder && dated.has(column) && rules.isTime(text)) return true;
    const isHeaded = (register.headings[column] ?? "") !== "";
    return !(isHeaded && (isDevice.has(row) || row <= heading.last)) && rules.states(text);
  };
  for (const [row, cells] of page.sheet.values.entries()) {
    if (row < heading.first) continue;
    const column = cells.findIndex(
      (value, at) => typeof value === "string" && value.length <= LONGEST && isRule(row, at, value),
    );
    if (column >= 0) return { row, column };
  }
  return null;
}

type Says = (heading: string, key: string) => boolean;

interface Look {
  readonly says: Says;
  readonly rows: readonly (readonly CellValue[])[];
  readonly matcher: Matcher;
  readonly parts: readonly Part[];
  readonly rules: RuleReader;
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
      if (look.rules.states(value)) return { row, column };
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

/** A text may be anything; a number of months that our longest interval does not exceed changes nothing. */
function isShorter(value: CellValue, heading: string, { longest }: Part): boolean {
  if (typeof value === "string") return /\d/.test(value);
  if (typeof value !== "number") return false;
  const unit = statedUnit(heading);
  return (unit !== null && (unit.times !== 1 || unit.by !== 1)) || value < (longest ?? Infinity);
}
