import { lastFilledRow, type Page } from "../../workbook/cells.ts";
import { withoutRivals } from "../../headings/rivals.ts";
import { type Chosen, type Choices } from "../../headings/choices.ts";
import { evidenceOf } from "../../headings/column-profile.ts";
import {
  headingCandidates,
  headingsAt,
  type HeadingRows,
  repeats,
} from "../../headings/headings.ts";
import { turnedBy } from "../../headings/around.ts";
import { matchColumns, type Matched } from "../../headings/claims.ts";
import { ACCEPTED, type Candidate, type Matcher } from "../../headings/match.ts";
import { monthsIn } from "../../headings/months.ts";
import { saysAgain } from "./stacked-tables.ts";
import { type BareLimit, bareLimits } from "../../headings/own-limits.ts";
import { type Pieces, piecesIn } from "../../headings/positions.ts";
import { isOwnLimit } from "../../records/own-limits.ts";
import { fieldOfPart, positionField, isLastDone } from "../../records/positions.ts";
import { positionOf } from "../../records/position-words.ts";
import type { Settings } from "../../records/settings.ts";
import type { Steps } from "../../workbook/steps.ts";
import type { ColumnMatch } from "../../records/records.ts";
import { peopleDoubt } from "./people-list.ts";

/** What was not certain when columns were matched. */
interface Asked extends Pick<Matched, "unclear"> {
  readonly pieces: readonly Pieces[];
  readonly bare: readonly BareLimit[];
}

/** A sheet with one of its rows taken for headings, and what its columns are then. */
export interface Matching {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly lastRow: number;
  readonly matches: readonly ColumnMatch[];
  readonly candidates: readonly Candidate[];
  /** Choices of columns that the sheet has no heading for. */
  readonly missing: readonly Chosen[];
  /** What is to be asked about its columns. */
  readonly asked: Asked;
}

/** The best matching of a sheet. */
export interface Scored {
  readonly found: Matching;
  readonly score: number;
  /** Its heading row is the chosen one, where one was chosen. */
  readonly asSaid: boolean;
}

/** What is known before a sheet is looked at. */
export interface Known {
  readonly matcher: Matcher;
  readonly choices: Choices;
  /** Tells which headings of a row are ours. */
  readonly ownAmong: (headings: readonly string[]) => (heading: string) => boolean;
  /** Which of several dates of one part count. */
  readonly positions: Settings["positions"];
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
/** Share of different numbers in a column that tells devices apart. */
const ALL_BUT_SLIPS = 0.9;

/** What a sheet is like at best; null where it is no register at all. What may list people is put down. */
export function* bestOf(page: Page, known: Known, doubted: string[]): Steps<Scored | null> {
  const { headerRow, registers } = known.choices;
  const best = yield* bestAt(page, known, { headerRow, doubted });
  if (best !== null || headerRow === null || registers.length === 1) return best;
  // The row was said of one sheet; another has its headings where they are.
  const free = yield* bestAt(page, known, { headerRow: null, doubted });
  return free === null ? null : { ...free, asSaid: false };
}

function* bestAt(
  page: Page,
  known: Known,
  { headerRow, doubted }: { readonly headerRow: number | null; readonly doubted: string[] },
): Steps<Scored | null> {
  let best: Scored | null = null;
  for (const trial of yield* trialsOf(page, known, headerRow)) {
    yield;
    const found = bothLanguages(matchingOf(trial, known), trial, known);
    const score = scoreOf(found);
    const doubt = known.choices.registers.length === 0 ? doubtOf(found) : null;
    if (doubt !== null) {
      if (score > 0) doubted.push(doubt);
      continue;
    }
    if (score > 0 && (best === null || score > best.score)) best = { found, score, asSaid: true };
  }
  return best;
}

/** The headings with the row below that says them again in another language. */
function bothLanguages(found: Matching, trial: Trial, known: Known): Matching {
  const { first, last, texts } = found.heading;
  if (!saysAgain(found, known.matcher, last + 1)) return found;
  return matchingOf({ ...trial, heading: { first, last: last + 1, texts } }, known);
}

/** The most promising heading rows of a sheet by their words alone. */
function* trialsOf(page: Page, known: Known, headerRow: number | null): Steps<Trial[]> {
  const candidates =
    headerRow === null ? headingCandidates(page.sheet) : headingsAt(page.sheet, headerRow);
  const trials: Trial[] = [];
  for (const heading of candidates) {
    const score = yield* wordScore(heading, known);
    if (score > 0 || headerRow !== null) trials.push({ page, heading, score });
  }
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

function* wordScore(heading: HeadingRows, { matcher, choices, ownAmong }: Known): Steps<number> {
  const isOwn = ownAmong(heading.texts);
  const best = new Map<string, number>();
  for (const text of heading.texts) {
    const key = text.toLowerCase();
    if (text === "" || isOwn(text)) continue;
    yield;
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
  // A list of due dates is no register.
  if (isOwnLimit(key)) return 0;
  if (key === "device") return DEVICE_WEIGHT;
  return isLastDone(key) ? LAST_WEIGHT : 1;
}

/** Columns against fields in one trial, the person's choices first. */
function matchingOf({ page, heading }: Trial, known: Known): Matching {
  const { matcher } = known;
  const lastRow = lastFilledRow(page.sheet);
  const isOwn = known.ownAmong(heading.texts);
  const all = heading.texts.flatMap((text, column): Candidate[] =>
    text === "" || isOwn(text)
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
  const { refused } = known.choices;
  const chosenColumns = new Set(chosen.matches.map(({ column }) => column));
  const free = all.filter(({ column }) => !chosenColumns.has(column));
  const pieces = piecesIn(matcher, free, { chosen: chosen.matches, refused });
  const inPieces = new Set(pieces.map(({ field }) => field.key));
  const first = [
    ...chosen.matches.filter(({ field }) => !inPieces.has(field)),
    ...pieces.flatMap((one) => one.matches),
  ];
  const said = new Set(first.map(({ column }) => column));
  const settled = new Set([...first.map(({ field }) => fieldOfPart(field)), ...refused]);
  const open = { ...matcher, fields: matcher.fields.filter(({ key }) => !settled.has(key)) };
  const { matches, unclear } = matchColumns(
    open,
    all.filter(({ column }) => !said.has(column)),
  );
  const found = [...first, ...matches.map(ofPosition)];
  const device = found.find(({ field }) => field === "device")?.column ?? 0;
  const evidenceFor = (match: ColumnMatch): Candidate["evidence"] =>
    all.find(({ column }) => column === match.column)?.evidence ?? null;
  const dated = found.filter(({ field }) => isLastDone(field)).map(({ column }) => column);
  const around = { page, heading, matcher, device, dated };
  const isTurned = (match: ColumnMatch): boolean =>
    turnedBy({ ...around, match, evidence: evidenceFor(match) }) !== null;
  const upright = found.filter((match) => !isTurned(match));
  const straight = withoutRivals(open, upright, all);
  const named = bySerial(straight, all);
  const bare = bareLimits(matcher, all, { matches: named, positions: known.positions, refused });
  const together = [...named, ...bare.flatMap(({ match }) => match ?? [])].sort(
    (one, other) => one.column - other.column,
  );
  const { missing } = chosen;
  const asked = { unclear, pieces, bare };
  return { page, heading, lastRow, matches: together, candidates: all, missing, asked };
}

/**
 * Beside dates of parts a serial number names the device where nothing else does, if it stands in one row only.
 */
function bySerial(matches: readonly ColumnMatch[], all: readonly Candidate[]): ColumnMatch[] {
  const has = (is: (field: string) => boolean): boolean => matches.some(({ field }) => is(field));
  const isNamed = has((field) => field === "device");
  if (isNamed || !has((field) => isLastDone(field))) return [...matches];
  return matches.map((match) => {
    const evidence = all.find(({ column }) => column === match.column)?.evidence;
    const isOwn = (evidence?.filled ?? 0) > 1 && (evidence?.distinct ?? 0) >= ALL_BUT_SLIPS;
    return match.field === "serial" && isOwn ? { ...match, field: "device" } : match;
  });
}

/** A column that speaks of one position of a part that wears: the others have none, and are not of its date. */
function ofPosition(match: ColumnMatch): ColumnMatch {
  const piece = isLastDone(match.field) ? positionOf(match.heading) : null;
  return piece === null ? match : { ...match, field: positionField(match.field, piece.position) };
}

/** How well a matching makes a register: above zero only with devices and something about them. */
function scoreOf({ page, heading, matches, candidates }: Matching): number {
  const device = matches.find(({ field }) => field === "device");
  const about = matches.filter(
    ({ field }) => field !== "device" && field !== "note" && !isOwnLimit(field),
  );
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
