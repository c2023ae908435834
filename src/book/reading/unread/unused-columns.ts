import { ownTitles } from "../../answers/titles.ts";
import { choicesOf } from "../../headings/choices.ts";
import { readDateText } from "../../headings/dates.ts";
import { evidenceOf } from "../../headings/column-profile.ts";
import { fieldsFor } from "../../headings/fields.ts";
import { holdsDates } from "../../headings/match.ts";
import { isOwnLimit } from "../../records/own-limits.ts";
import { fault, listed, notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import type { Settings } from "../../records/settings.ts";
import type { Day } from "../../../core/day.ts";
import { isBlank, type Page, quoted, textOf, trueDate } from "../../workbook/cells.ts";
import { isCellError } from "../../workbook/snapshot.ts";
import type { Named } from "../devices/devices.ts";
import { isOfPastYear } from "./history-columns.ts";
import type { Found } from "../register/register.ts";
import { remarkColumns } from "../remarks/remarks-heard.ts";
import { type UnusedReader, unusedReader } from "./unused-words.ts";

/** Columns named in the sentence; the rest are counted. */
const NAMED = 8;

interface Beside {
  readonly parts: readonly Part[];
  readonly settings: Pick<Settings, "reportDate" | "matches">;
  /** Columns of the register of which something is said already. */
  readonly told: ReadonlySet<number>;
  /** Columns that are only asked about; a cell of theirs that condemns a part is told all the same. */
  readonly asked: ReadonlySet<number>;
  /** Row and column of cells that are heard as remarks. */
  readonly heard: ReadonlySet<string>;
}

/**
 * Columns of a register that are not used and speak of a part, of what is due or of damage, by their heading or in a
 * cell: whatever they say is in no list, and a heading in words of somebody's own may say that a part must go. Those in
 * which a day has passed, or a cell condemns or denies, are faults.
 */
export function unusedColumns(
  found: Found,
  named: readonly Named[],
  { parts, told, asked, heard, settings: { reportDate, matches } }: Beside,
): Problem[] {
  const { page, register } = found;
  const used = new Set([
    ...told,
    ...register.matches.map(({ column }) => column),
    ...remarkColumns(found, parts),
  ]);
  const isOwn = ownTitles(parts)(register.headings);
  const says = unusedReader(parts);
  // A person may have said that there is no limit of their own.
  const noLimits = choicesOf(matches, fieldsFor(parts)).refused.some(isOwnLimit);
  const rows = named.filter(({ retired }) => !retired).map(({ row }) => row);
  // What no figure asks for, or is told for itself.
  const isOther = (heading: string, column: number): boolean =>
    says.plain(heading) ||
    isOfPastYear(page, register, { heading, column }) ||
    (noLimits && says.limit(heading)) ||
    (says.strange(heading) && holdsDates(evidenceIn(found, column)));
  const columns = register.headings.flatMap((heading, column): Unused[] => {
    if (heading === "" || used.has(column) || isOwn(heading) || isOther(heading, column)) return [];
    const filled = rows.filter((row) => !isBlank(page.sheet.values[row]?.[column] ?? null));
    const unheard = filled.filter((row) => !heard.has(`${row} ${column}`));
    const texts = [
      ...new Set(unheard.map((row) => textOf(page.sheet.values[row]?.[column] ?? null))),
    ];
    const ends = (row: number): boolean =>
      mayEnd({ page, row, column }, { reportDate, isOfPart: says.part(heading) });
    const isAsked = asked.has(column);
    const isUrgent =
      texts.some((text) => calls(text, heading, says)) ||
      (!isAsked && says.due(heading) && filled.some(ends));
    const isTold =
      filled.length > 0 &&
      (isUrgent || (!isAsked && !says.asked(heading) && says.heading(heading)));
    return isTold ? [{ heading, column, isUrgent }] : [];
  });
  const place = { sheet: register.sheet, row: null };
  return [true, false].flatMap((urgent) =>
    problemOf(
      columns.filter(({ isUrgent }) => isUrgent === urgent),
      { urgent, place },
    ),
  );
}

interface Cell {
  readonly page: Page;
  readonly row: number;
  readonly column: number;
}

/** A day that has passed or cannot be told, or, of a part, a number that may be its interval. */
function mayEnd(
  { page, row, column }: Cell,
  { reportDate, isOfPart }: { readonly reportDate: Day; readonly isOfPart: boolean },
): boolean {
  const date = trueDate(page, row, column);
  if (date !== null) return date <= reportDate;
  const cell = page.sheet.values[row]?.[column] ?? null;
  if (typeof cell === "number") return isOfPart;
  // What a formula would say if it were whole, nobody knows.
  if (isCellError(cell)) return true;
  const said = typeof cell === "string" ? readDateText(cell) : null;
  return said !== null && (said.kind !== "day" || said.date <= reportDate);
}

/** Whether a cell condemns a part, is the time after which it must go, or says that none is left. */
function calls(text: string, heading: string, says: UnusedReader): boolean {
  if (says.against(text, heading) || isBelowZero(text)) return true;
  return says.heading(heading) && says.every(text, heading);
}

/** Days, weeks or uses that are left, and are none any more. */
function isBelowZero(text: string): boolean {
  return /^[-\u2212]\d+(?:[.,]\d+)?$/u.test(text);
}

interface Unused {
  readonly heading: string;
  readonly column: number;
  readonly isUrgent: boolean;
}

const FIX =
  'Look there. A due date counts under the part\'s name and "next due", an interval under its name and "interval (months)", damage under its name and "finding".';

function problemOf(
  columns: readonly Unused[],
  { urgent, place }: { readonly urgent: boolean; readonly place: { sheet: string; row: null } },
): Problem[] {
  const [first] = columns;
  if (first === undefined) return [];
  const names = listed(
    columns.map(({ heading }) => quoted(heading)),
    NAMED,
  );
  const { heading, column } = first;
  const may = urgent
    ? "says that a part is due or no good"
    : "may say that a part is due or no good";
  const say = urgent ? fault : notice;
  return [
    say(
      "unused column",
      { ...place, heading, column },
      `Nothing is read from ${names}, which ${may}.`,
      FIX,
    ),
  ];
}

function evidenceIn({ page, register }: Found, column: number): ReturnType<typeof evidenceOf> {
  return evidenceOf(page, column, register.headerRow + 1, register.rows.at(-1) ?? 0);
}
