import { type Page } from "../../workbook/cells.ts";
import { type Chosen, choicesOf, type Choices } from "../../headings/choices.ts";
import { BookError } from "../../workbook/errors.ts";
import type { HeadingRows } from "../../headings/headings.ts";
import { matcherFor } from "../../headings/match.ts";
import type { FindsWayOut } from "../../headings/no-register.ts";
import { fault, listed } from "../../records/problems.ts";
import type { Ours, Problem, Register } from "../../records/records.ts";
import { blockSites } from "../rows/block-sites.ts";
import { isAnother, isSetAside, latestOf } from "./register-alike.ts";
import { bestOf, type Known, type Matching, type Scored } from "./register-sheet.ts";
import { dittoSites } from "../rows/ditto-sites.ts";
import { mergedSites } from "../rows/merged-sites.ts";
import { stackedSay, stackedTables } from "./stacked-tables.ts";
import type { RowNote } from "../rows/row-faults.ts";
import { type SortedRows, sortRows } from "../rows/rows.ts";
import { siteLabels, siteOfSheet } from "./sheet-site.ts";
import { ownTitles } from "../../answers/titles.ts";
import type { Steps } from "../../workbook/steps.ts";

/** The register with what it was found in. */
export interface Found {
  readonly page: Page;
  readonly register: Register;
  readonly heading: HeadingRows;
  readonly columns: ReadonlyMap<string, number>;
  /** The site of devices whose sheet has no column for it, where there are several registers. */
  readonly site: string;
  /** The site of rows that do not hold it: below a title that names it, or merged with a row above. */
  readonly siteByRow: ReadonlyMap<number, string>;
  /** What its columns were taken for. */
  readonly matching: Matching;
  readonly problems: readonly Problem[];
  /** What is told of its rows and sites, before it is put into words. */
  readonly notes: readonly RowNote[];
}

/**
 * Finds the registers: the sheets, their heading rows, columns and device rows. Sheets that were chosen are
 * read, and no other; else the one that is most like a register and every other that is like it. In steps.
 */
export function* findRegisters(
  pages: readonly Page[],
  ours: Ours,
  wayOut?: FindsWayOut,
): Steps<{ readonly founds: readonly Found[]; readonly search: Search }> {
  const matcher = matcherFor(ours.parts);
  const choices = choicesOf(ours.settings.matches, matcher.fields);
  const known: Known = {
    matcher,
    choices,
    ownAmong: ownTitles(ours.parts),
    positions: ours.settings.positions,
  };
  const chosen = sheetsToSearch(pages, choices);
  const doubted: string[] = [];
  const scored: Scored[] = [];
  for (const page of pages) {
    yield;
    const best = yield* bestOf(page, known, doubted);
    if (best !== null) scored.push(best);
  }
  scored.sort((one, other) => other.score - one.score);
  const isChosen = ({ found }: Scored): boolean => chosen.includes(found.page);
  const likest = scored.find((one) => isChosen(one) && one.asSaid);
  if (likest === undefined) {
    // A heading row that was said wrongly is put right where it was said.
    const way = choices.headerRow === null ? wayOut?.(chosen, matcher) : null;
    const [doubt] = doubted;
    throw new BookError(
      doubt === undefined ? whyNone(choices, way) : `no equipment register found: ${doubt}`,
    );
  }
  const isFree = choices.registers.length === 0;
  const main = isFree ? latestOf(likest, scored, ours.settings.reportDate) : likest;
  const search = sorted(main, scored, isFree ? null : isChosen);
  const picked = [...search.picked];
  for (const { sheet } of isFree ? [] : chosen) {
    if (picked.some(({ found }) => found.page.sheet === sheet)) continue;
    throw new BookError(whyNone({ ...choices, registers: [sheet.name] }));
  }
  const problems = choicesMissing(picked);
  const order = new Map(pages.map((page, at) => [page, at]));
  picked.sort(
    (one, other) => (order.get(one.found.page) ?? 0) - (order.get(other.found.page) ?? 0),
  );
  const founds: Found[] = [];
  for (const { found } of picked) {
    const register = yield* registerFrom(found, { known, ours, isOneOfMany: picked.length > 1 });
    // What is told of the search stands with the first.
    founds.push({ ...register, problems: [...problems.splice(0), ...register.problems] });
  }
  return { founds, search };
}

/** The sheets that are read as registers, the one most like one first, and those that are not. */
export interface Search {
  readonly picked: readonly Scored[];
  readonly others: readonly Scored[];
}

function sorted(
  main: Scored,
  scored: readonly Scored[],
  isChosen: ((one: Scored) => boolean) | null,
): Search {
  const picked = [main];
  // An original goes before its copy, however many there are of both.
  const others = scored
    .filter((one) => one !== main)
    .sort((one, other) => Number(isSetAside(one.found)) - Number(isSetAside(other.found)));
  for (const one of others) {
    if (isChosen === null ? isAnother(one, picked) : isChosen(one)) picked.push(one);
  }
  return { picked, others: others.filter((one) => !picked.includes(one)) };
}

/** Chosen columns that no register has: where one has it, the others' headings speak for themselves. */
function choicesMissing(picked: readonly Scored[]): Problem[] {
  const [first, ...others] = picked.map(({ found }) => found);
  if (first === undefined) return [];
  return first.missing
    .filter(({ field }) =>
      others.every(({ missing }) => missing.some((one) => one.field === field)),
    )
    .map((choice) => choiceMissing(first.page, choice));
}

function choiceMissing({ sheet }: Page, { field, heading }: Chosen): Problem {
  return fault(
    "chosen column missing",
    { sheet: sheet.name, row: null, column: null, heading },
    `${field.title} was set to the column "${heading}", but there is no such heading, or another field has it.`,
    "Correct the heading, or the choice in Setup.",
  );
}

function sheetsToSearch(pages: readonly Page[], { registers }: Choices): readonly Page[] {
  if (registers.length === 0) return pages;
  return registers.map((name) => {
    const wanted = name.toLowerCase();
    const page = pages.find(({ sheet }) => sheet.name.trim().toLowerCase() === wanted);
    if (page !== undefined) return page;
    throw new BookError(
      `the register is set to the sheet ${name}, but the workbook has no such sheet`,
    );
  });
}

/** The rows before another table on the sheet; those of it are left out, which is told of the table. */
function before({ rows, leftOut, notes }: SortedRows, end: number): SortedRows {
  const isBefore = (row: number): boolean => row < end;
  const theirs = rows.filter((row) => !isBefore(row));
  return {
    rows: rows.filter(isBefore),
    leftOut: [...leftOut, ...theirs.map((row) => ({ row, reason: "a row of another table" }))],
    notes: notes.filter(([, , row]) => typeof row !== "number" || isBefore(row)),
  };
}

function whyNone({ registers, headerRow }: Choices, way: string | null = null): string {
  const where =
    registers.length === 0
      ? "no sheet has a row of headings"
      : `the sheet ${listed(registers)} has no row of headings`;
  const at = headerRow === null ? "" : ` in row ${headerRow + 1}`;
  const fix = way ?? "state in Setup which sheet, header row and columns to use";
  return `no equipment register found: ${where}${at} with a device column and one more known column; ${fix}`;
}

interface Among {
  readonly known: Known;
  readonly ours: Ours;
  readonly isOneOfMany: boolean;
}

/**
 * A register from its sheet. Without a column for it, the site is in the titles above blocks of devices; of one
 * of several registers in its title or its name.
 */
function* registerFrom(found: Matching, { known, ours, isOneOfMany }: Among): Steps<Found> {
  const { page, heading, matches, candidates } = found;
  const columns = new Map(matches.map((match) => [match.field, match.column]));
  const matched = new Set(matches.map(({ column }) => column));
  const stacked = stackedTables(found, known.matcher);
  const next = stacked.find(({ row }) => row > heading.last)?.row ?? Infinity;
  yield;
  const sorted = before(sortRows(page, heading, { lastRow: found.lastRow, columns }), next);
  yield;
  const blocks = blockSites({
    ...{ page, heading, columns, sorted, sites: ours.sites },
    isLabel: siteLabels(known.matcher),
  });
  const titles = new Set(blocks.titles);
  const reason = "a site's name";
  const register: Register = {
    sheet: page.sheet.name,
    headerRow: heading.last,
    rows: sorted.rows.filter((row) => !titles.has(row)),
    leftOut: [
      ...sorted.leftOut,
      ...sorted.rows.flatMap((row) => (titles.has(row) ? { row, reason } : [])),
    ].sort((one, other) => one.row - other.row),
    headings: heading.texts,
    matches,
    unmatched: candidates.filter(({ column }) => !matched.has(column)).map((one) => one.heading),
  };
  const site =
    isOneOfMany && !columns.has("site") && titles.size === 0
      ? siteOfSheet({ page, above: heading.first }, known.matcher, ours.sites)
      : "";
  const at = columns.get("site");
  const among = { rows: register.rows, heading: heading.texts[at ?? 0] ?? "" };
  const merged = mergedSites(page, at, among);
  const over = new Map([...blocks.byRow, ...merged.byRow]);
  const ditto = dittoSites(page, at, { ...among, byRow: over });
  const siteByRow = new Map([...over, ...ditto.byRow]);
  yield;
  const notes = [...sorted.notes, ...blocks.notes, ...merged.notes, ...ditto.notes];
  const problems = stackedSay(found, stacked);
  return { page, register, heading, columns, site, siteByRow, matching: found, problems, notes };
}
