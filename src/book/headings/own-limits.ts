import type { Evidence } from "./column-profile.ts";
import type { ColumnMatch } from "../records/records.ts";
import { positionOf } from "../records/position-words.ts";
import { fieldOfPart, positionField } from "../records/positions.ts";
import type { Settings } from "../records/settings.ts";
import {
  isOwnDue,
  isOwnLimit,
  ownDueField,
  ownIntervalField,
  type OwnUnit,
  partOfField,
} from "../records/own-limits.ts";
import { ANY_DUE, ANY_INTERVAL } from "./fields.ts";
import { type Candidate, CERTAIN, type Matcher } from "./match.ts";
import { knownWords, wordsOf } from "./words.ts";

const KNOWN = new Set(knownWords());
/** Whole months are certain only with the shortest of each: 7 days a week, no month longer than 31 days. */
const UNITS: Readonly<Record<string, OwnUnit>> = {
  days: { times: 1, by: 31 },
  week: { times: 7, by: 31 },
  month: { times: 1, by: 1 },
  year: { times: 12, by: 1 },
  years: { times: 12, by: 1 },
};

/** What the numbers under the heading of an interval are: null where it does not say, which reads as months. */
export function statedUnit(heading: string): OwnUnit | null {
  const words = wordsOf(heading.replaceAll(/[()[\]]/g, " "), KNOWN);
  return words.flatMap(({ text }) => UNITS[text] ?? [])[0] ?? null;
}

export const MONTHS: OwnUnit = { times: 1, by: 1 };

/** A column of limits whose heading names no part, or one position of it: whose it is, null where that cannot be told. */
export interface BareLimit {
  readonly candidate: Candidate;
  readonly kind: "due" | "every";
  readonly match: ColumnMatch | null;
}

/**
 * Columns such as "Next due" and "Interval" that name no part. Right beside the dates of a part it is that part's,
 * and so it is where the register has dates of one part only. A due date of one position is its own, where each
 * position has an interval and dates.
 */
export function bareLimits(
  matcher: Matcher,
  all: readonly Candidate[],
  {
    matches,
    positions,
    refused,
  }: {
    readonly matches: readonly ColumnMatch[];
    /** Fields that were set to have no column. */
    readonly refused: readonly string[];
  } & Pick<Settings, "positions">,
): BareLimit[] {
  const bare = all.flatMap((candidate) => {
    const isFree = matches.every(({ column }) => column !== candidate.column);
    const limit = isFree ? limitOf(matcher, candidate) : null;
    return limit === null ? [] : [{ candidate, ...limit }];
  });
  const isBare = (column: number): boolean => bare.some((one) => one.candidate.column === column);
  const taken = new Set(matches.map(({ field }) => field));
  const isTaken = (field: string): boolean =>
    taken.has(fieldOfPart(field)) ||
    [...taken].some((other) => other === field || fieldOfPart(other) === field);
  return bare.flatMap(({ candidate, kind, code: named, position }): BareLimit[] => {
    const isOthers = isBesideOthers(candidate.column, all, matches);
    const code =
      named ?? besideOf(candidate.column, matches, isBare) ?? (isOthers ? null : onlyOf(matches));
    const fieldFor = kind === "due" ? ownDueField : ownIntervalField;
    const whole = fieldFor({ code: code ?? "" });
    if (refused.some((field) => (code === null ? field.startsWith(whole) : field === whole))) {
      return [];
    }
    if (code === null) return [{ candidate, kind, match: null }];
    const field = position === null ? whole : positionField(whole, position);
    const isOwn =
      position === null ||
      (kind === "due" &&
        positions === "each" &&
        taken.has(positionField(`last:${code}`, position)));
    if (!isOwn || isTaken(field)) return [{ candidate, kind, match: null }];
    taken.add(field);
    const { column, heading } = candidate;
    const match: ColumnMatch = { field, column, heading, confidence: BESIDE, by: "heading" };
    return [{ candidate, kind, match }];
  });
}

interface Limit extends Pick<BareLimit, "kind"> {
  /** The part that is named beside a position; null where none is. */
  readonly code: string | null;
  readonly position: string | null;
}

/** What limit a heading says, with or without a position. */
function limitOf(matcher: Matcher, candidate: Candidate): Limit | null {
  const { position = null, rest } = positionOf(candidate.heading) ?? { rest: candidate.heading };
  const heading = rest;
  const bare = kindOf(matcher, { ...candidate, heading });
  if (bare !== null) return { kind: bare, code: null, position };
  const field =
    position === null
      ? undefined
      : matcher.fields.find(
          (one) =>
            isOwnLimit(one.key) && matcher.likeness(heading, one, candidate.evidence) >= CERTAIN,
        );
  if (field === undefined) return null;
  const kind = isOwnDue(field.key) ? "due" : "every";
  return { kind, code: partOfField(field.key), position };
}

/** How sure it is that a column belongs to the dates it stands beside. */
const BESIDE = 0.8;

function kindOf(matcher: Matcher, { heading, evidence }: Candidate): BareLimit["kind"] | null {
  if (matcher.likeness(heading, ANY_DUE, evidence) >= CERTAIN && mayBeDates(evidence)) return "due";
  const likeness = Math.max(
    matcher.likeness(heading, ANY_INTERVAL, evidence),
    matcher.likeness(heading.replace(UNIT_WORDS, " month "), ANY_INTERVAL, evidence),
  );
  return likeness >= CERTAIN && !isDates(evidence) ? "every" : null;
}

/** Other units than months are as good in the heading of an interval. */
const UNIT_WORDS = /\b(?:days?|weeks?|wks?|quarters?|years?)\b/giu;

const HALF = 0.5;

/** A formula that is not calculated yet shows nothing. */
function mayBeDates(evidence: Evidence | null): boolean {
  return evidence === null || evidence.filled === 0 || evidence.dates >= HALF;
}

function isDates(evidence: Evidence | null): boolean {
  return evidence !== null && evidence.filled > 0 && evidence.dates >= HALF;
}

/** The part whose dates stand left of a column, with nothing between them but limits. */
function besideOf(
  column: number,
  matches: readonly ColumnMatch[],
  isBare: (column: number) => boolean,
): string | null {
  for (let at = column - 1; at >= 0; at -= 1) {
    const match = matches.find((one) => one.column === at);
    if (match === undefined) {
      if (!isBare(at)) return null;
    } else if (!isOwnLimit(match.field)) return partOfField(match.field);
  }
  return null;
}

/** Whether right before a column stand dates that are nobody's, such as of deliveries: it may be theirs. */
function isBesideOthers(
  column: number,
  all: readonly Candidate[],
  matches: readonly ColumnMatch[],
): boolean {
  const before = all.find((one) => one.column === column - 1);
  const isKnown = matches.some((one) => one.column === column - 1);
  return before !== undefined && !isKnown && isDates(before.evidence);
}

/** The one part that a register has dates of. */
function onlyOf(matches: readonly ColumnMatch[]): string | null {
  const codes = new Set(matches.flatMap(({ field }) => partOfField(field) ?? []));
  const [only = null] = codes;
  return codes.size === 1 ? only : null;
}
