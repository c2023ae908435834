import { deviceKey } from "../records/device-key.ts";
import { identifierAt, lastFilledRow, type Page } from "../workbook/cells.ts";
import { type Chosen, choicesOf, type Choices } from "../headings/choices.ts";
import { BookError } from "../workbook/errors.ts";
import { evidenceOf } from "../headings/column-profile.ts";
import { fieldsFor } from "../headings/fields.ts";
import { headingCandidates, headingsAt, type HeadingRows, repeats } from "../headings/headings.ts";
import {
  ACCEPTED,
  type Candidate,
  matchColumns,
  type Matcher,
  matcherOf,
  saysLastReplaced,
} from "../headings/match.ts";
import { monthsIn } from "../headings/months.ts";
import { wayOut } from "../headings/no-register.ts";
import { fault, listed, notice, wholeSheet } from "../records/problems.ts";
import type { ColumnMatch, Ours, Problem, Register } from "../records/records.ts";
import { peopleDoubt } from "./people-list.ts";
import { sortRows } from "./rows.ts";
import { ownTitles } from "../answers/titles.ts";

/** The register with what it was found in. */
export interface Found {
  readonly page: Page;
  readonly register: Register;
  readonly heading: HeadingRows;
  readonly columns: ReadonlyMap<string, number>;
  /** The site of devices whose sheet has no column for it: of several registers, each sheet's name. */
  readonly site: string;
  readonly problems: readonly Problem[];
}

interface Trial {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly score: number;
}

/** Candidates of one sheet that are worth looking at more closely. */
const CLOSER_LOOKS = 4;
const DEVICE_WEIGHT = 3;
const LAST_WEIGHT = 2;

/**
 * Finds the registers: the sheets, their heading rows, columns and device rows. Sheets that were chosen are
 * read, and no other; else the one that is most like a register and every other that is like it.
 */
export function findRegisters(pages: readonly Page[], ours: Ours): Found[] {
  const matcher = matcherOf(fieldsFor(ours.parts));
  const choices = choicesOf(ours.settings.matches, matcher.fields);
  const own = lowered(ownTitles(ours.parts));
  const chosen = sheetsToSearch(pages, choices);
  const known = { choices, own };
  const doubted: string[] = [];
  const scored = pages
    .flatMap((page) => bestOf(page, matcher, { ...known, doubted }) ?? [])
    .sort((one, other) => other.score - one.score);
  const isChosen = ({ found }: Scored): boolean => chosen.includes(found.page);
  const main = scored.find(isChosen);
  if (main === undefined) {
    // A heading row that was said wrongly is put right where it was said.
    const way = choices.headerRow === null ? wayOut(chosen, matcher) : null;
    const [doubt] = doubted;
    throw new BookError(
      doubt === undefined ? whyNone(choices, way) : `no equipment register found: ${doubt}`,
    );
  }
  const picked = [main];
  const passed: Problem[] = [];
  for (const one of scored.filter((other) => other !== main)) {
    if (choices.registers.length > 0 ? isChosen(one) : isAnother(one, picked)) picked.push(one);
    else if (looksAlike(one, main)) passed.push(notRead(one, picked));
  }
  const order = pages.map(({ sheet }) => sheet.name);
  const found = picked
    .map((one) => registerFrom(one.found, picked.length > 1))
    .sort((a, b) => order.indexOf(a.register.sheet) - order.indexOf(b.register.sheet));
  const [first, ...others] = found;
  if (first === undefined) throw new Error("no register");
  return [{ ...first, problems: [...first.problems, ...passed] }, ...others];
}

interface Scored {
  readonly found: Matching;
  readonly score: number;
}

/** What a sheet is like at best; null where it is no register at all. What may list people is put down. */
function bestOf(
  page: Page,
  matcher: Matcher,
  known: Known & { readonly doubted: string[] },
): Scored | null {
  let best: Scored | null = null;
  for (const trial of trialsOf(page, matcher, known)) {
    const found = matchingOf(trial, matcher, known);
    const score = scoreOf(found);
    const doubt = known.choices.registers.length === 0 ? doubtOf(found) : null;
    if (doubt !== null) {
      if (score > 0) known.doubted.push(doubt);
      continue;
    }
    if (score > 0 && (best === null || score > best.score)) best = { found, score };
  }
  return best;
}

/** From this share of known devices on a sheet is a copy, or a list about them. */
const COPY = 0.5;

/** Whether a sheet holds further devices of the programme, kept as the others are. */
function isAnother(one: Scored, picked: readonly Scored[]): boolean {
  const [main] = picked;
  return main !== undefined && looksAlike(one, main) && sharedDevices(one, picked) < COPY;
}

/** Half the fields of the main register and a date of its parts, in rows that name a device once. */
function looksAlike({ found }: Scored, main: Scored): boolean {
  const fields = fieldsOf(found);
  const wanted = fieldsOf(main.found);
  const shared = [...wanted].filter((field) => fields.has(field)).length;
  const dates = (all: ReadonlySet<string>): boolean =>
    [...all].some((field) => field.startsWith("last:"));
  return shared * 2 >= wanted.size && dates(fields) === dates(wanted) && namesEachOnce(found);
}

function fieldsOf({ matches }: Matching): ReadonlySet<string> {
  return new Set(
    matches.flatMap(({ field }) => (field === "site" || field === "note" ? [] : field)),
  );
}

const MOSTLY = 0.8;

function namesEachOnce({ matches, candidates }: Matching): boolean {
  const device = matches.find(({ field }) => field === "device");
  const evidence = candidates.find(({ column }) => column === device?.column)?.evidence;
  return device !== undefined && (evidence?.filled ?? 0) > 0 && (evidence?.distinct ?? 0) >= MOSTLY;
}

function sharedDevices({ found }: Scored, picked: readonly Scored[]): number {
  const known = new Set(picked.flatMap((one) => deviceKeys(one.found)));
  const own = deviceKeys(found);
  return own.filter((key) => known.has(key)).length / Math.max(1, own.length);
}

function deviceKeys({ page, heading, lastRow, matches }: Matching): string[] {
  const column = matches.find(({ field }) => field === "device")?.column;
  if (column === undefined) return [];
  const keys: string[] = [];
  for (let row = heading.last + 1; row <= lastRow; row += 1) {
    const key = deviceKey(identifierAt(page, row, column));
    if (key !== "") keys.push(key);
  }
  return keys;
}

function notRead(one: Scored, picked: readonly Scored[]): Problem {
  const { sheet } = one.found.page;
  const names = listed(picked.map(({ found }) => found.page.sheet.name));
  const isCopy = sharedDevices(one, picked) >= COPY;
  return notice(
    "register not read",
    wholeSheet(sheet.name),
    `${sheet.name} looks like a register, but is not read${isCopy ? `: most of its devices are on ${names} too` : ""}.`,
    `If its devices belong to the programme, choose it besides ${names}: --match "register=${sheet.name}", or a row Register in Setup.`,
  );
}

function lowered(texts: ReadonlySet<string>): ReadonlySet<string> {
  return new Set([...texts].map((text) => text.toLowerCase()));
}

interface Known {
  readonly choices: Choices;
  readonly own: ReadonlySet<string>;
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

function whyNone({ registers, headerRow }: Choices, way: string | null): string {
  const where =
    registers.length === 0
      ? "no sheet has a row of headings"
      : `the sheet ${listed(registers)} has no row of headings`;
  const at = headerRow === null ? "" : ` in row ${headerRow + 1}`;
  const fix = way ?? "state in Setup which sheet, header row and columns to use";
  return `no equipment register found: ${where}${at} with a device column and one more known column; ${fix}`;
}

/** The most promising heading rows of a sheet by their words alone. */
function trialsOf(page: Page, matcher: Matcher, known: Known): Trial[] {
  const { headerRow } = known.choices;
  const candidates =
    headerRow === null ? headingCandidates(page.sheet) : headingsAt(page.sheet, headerRow);
  const trials = candidates
    .map((heading) => ({ page, heading, score: wordScore(heading, matcher, known) }))
    .filter(({ score }) => score > 0 || headerRow !== null);
  // The devices above a heading that is only repeated would be lost without a word; below a small table
  // that shares a few headings the register itself would be.
  return trials
    .filter(
      ({ heading, score }) =>
        !trials.some((other) => other.score >= score && repeats(heading, other.heading)),
    )
    .sort((one, other) => other.score - one.score)
    .slice(0, CLOSER_LOOKS);
}

function wordScore(heading: HeadingRows, matcher: Matcher, { choices, own }: Known): number {
  const best = new Map<string, number>();
  for (const text of heading.texts) {
    const key = text.toLowerCase();
    if (text === "" || own.has(key)) continue;
    const chosen = choices.byHeading.get(key);
    if (chosen !== undefined) best.set(chosen.key, 1);
    for (const field of matcher.fields) {
      const score = matcher.likeness(text, field, null);
      if (score >= ACCEPTED && score > (best.get(field.key) ?? 0)) best.set(field.key, score);
    }
  }
  let total = 0;
  for (const [key, score] of best) total += weightOf(key) * score;
  return total;
}

function weightOf(key: string): number {
  if (key === "device") return DEVICE_WEIGHT;
  return key.startsWith("last:") ? LAST_WEIGHT : 1;
}

interface Matching {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly lastRow: number;
  readonly matches: readonly ColumnMatch[];
  readonly candidates: readonly Candidate[];
  readonly problems: readonly Problem[];
}

/** Columns against fields in one trial, the person's choices first. */
function matchingOf({ page, heading }: Trial, matcher: Matcher, known: Known): Matching {
  const lastRow = lastFilledRow(page.sheet);
  const all = heading.texts.flatMap((text, column): Candidate[] =>
    text === "" || known.own.has(text.toLowerCase())
      ? []
      : [
          {
            column,
            heading: text,
            evidence: evidenceOf(page, column, heading.last + 1, lastRow),
          },
        ],
  );
  const chosen = known.choices.apply(all);
  const said = new Set(chosen.matches.map(({ column }) => column));
  const settled = new Set([...chosen.matches.map(({ field }) => field), ...known.choices.refused]);
  const open = { ...matcher, fields: matcher.fields.filter(({ key }) => !settled.has(key)) };
  const { matches, unclear } = matchColumns(
    open,
    all.filter(({ column }) => !said.has(column)),
  );
  const together = [...chosen.matches, ...matches].sort((one, other) => one.column - other.column);
  const problems = [
    ...chosen.missing.map((choice) => choiceMissing(page, choice)),
    ...unclear.map(({ field, columns }) => askWhich(page, field.title, field.key, columns)),
    ...askPart({ page, matcher, matches: together }, all),
  ];
  return { page, heading, lastRow, matches: together, candidates: all, problems };
}

function askWhich(page: Page, title: string, key: string, columns: readonly Candidate[]): Problem {
  const names = listed(columns.map(({ heading }) => `"${heading}"`));
  return notice(
    "unclear column",
    { ...at(page), column: columns[0]?.column ?? null, heading: columns[0]?.heading ?? "" },
    `${names} fit ${title} equally well.`,
    `State which one it is under "Column ${key}" in Setup.`,
  );
}

function at(page: Page): { sheet: string; row: null } {
  return { sheet: page.sheet.name, row: null };
}

interface Asking {
  readonly page: Page;
  readonly matcher: Matcher;
  readonly matches: readonly ColumnMatch[];
}

/** "Last replaced" without the part's name, in a programme with several parts. */
function askPart({ page, matcher, matches }: Asking, all: readonly Candidate[]): Problem[] {
  const taken = new Set(matches.map(({ column }) => column));
  return all
    .filter((candidate) => !taken.has(candidate.column) && saysLastReplaced(matcher, candidate))
    .map((candidate) =>
      notice(
        "unclear column",
        { ...at(page), column: candidate.column, heading: candidate.heading },
        `"${candidate.heading}" does not say which part was replaced.`,
        'State which part it is, such as under "Column last:SET" in Setup.',
      ),
    );
}

function choiceMissing(page: Page, { field, heading }: Chosen): Problem {
  return fault(
    "chosen column missing",
    { ...at(page), column: null, heading },
    `${field.title} was set to the column "${heading}", but there is no such heading.`,
    "Correct the heading, or the choice in Setup.",
  );
}

/** How well a matching makes a register: above zero only with devices and something about them. */
function scoreOf({ page, heading, matches, candidates }: Matching): number {
  const device = matches.find(({ field }) => field === "device");
  const about = matches.filter(({ field }) => field !== "device" && field !== "note");
  if (device === undefined || (about.length === 0 && device.by === "heading")) return 0;
  const evidence = candidates.find(({ column }) => column === device.column)?.evidence ?? null;
  let score = 0;
  for (const { field, confidence } of matches) score += weightOf(field) * confidence;
  if (evidence !== null && evidence.filled > 0) {
    // One row a device: a list that names devices again and again is a log or a list of counts.
    score += evidence.distinct * 2 - 1 + Math.min(1, evidence.filled / 10);
    if (evidence.filled >= 4 && evidence.distinct < 0.5) score -= DEVICE_WEIGHT;
  }
  if (monthsIn(page, heading).length >= 2) score -= 1;
  if (page.sheet.visibility !== "visible") score -= 0.5;
  return Math.max(score, 0.01);
}

function doubtOf({ page, heading, matches }: Matching): string | null {
  return peopleDoubt({ sheet: page.sheet.name, headings: heading.texts, matches });
}

function registerFrom(found: Matching, isOneOfMany: boolean): Found {
  const { page, heading, matches, candidates } = found;
  const columns = new Map(matches.map((match) => [match.field, match.column]));
  const matched = new Set(matches.map(({ column }) => column));
  const sorted = sortRows(page, heading, { lastRow: found.lastRow, columns });
  const register: Register = {
    sheet: page.sheet.name,
    headerRow: heading.last,
    rows: sorted.rows,
    leftOut: sorted.leftOut,
    headings: heading.texts,
    matches,
    unmatched: candidates.filter(({ column }) => !matched.has(column)).map((one) => one.heading),
  };
  const site = isOneOfMany && !columns.has("site") ? page.sheet.name.trim() : "";
  const problems = [...found.problems, ...sorted.problems];
  return { page, register, heading, columns, site, problems };
}
