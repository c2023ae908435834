import { positionField, WHOLE, isLastDone } from "../records/positions.ts";
import { positionOf } from "../records/position-words.ts";
import type { ColumnMatch } from "../records/records.ts";
import { contradicts, type Evidence } from "./column-profile.ts";
import type { Field } from "./fields.ts";
import { ACCEPTED, type Candidate, CERTAIN, type Matcher } from "./match.ts";

/** Cells from which on a column of dates shows that it is one. */
const ENOUGH = 3;

/** The columns of one part that stand beside each other for its pieces. */
export interface Pieces {
  readonly field: Field;
  readonly matches: readonly ColumnMatch[];
}

/**
 * Parts with several columns of dates, one for each piece; a column of the part as a whole beside them is one of
 * them. A column that a person chose brings those of the other pieces along: they would be hidden else.
 */
export function piecesIn(
  matcher: Matcher,
  open: readonly Candidate[],
  {
    chosen,
    refused,
  }: { readonly chosen: readonly ColumnMatch[]; readonly refused: readonly string[] },
): Pieces[] {
  return matcher.fields.flatMap((field): Pieces[] => {
    if (!isLastDone(field.key) || refused.includes(field.key)) return [];
    const own = chosen.find((match) => match.field === field.key);
    const matches = own === undefined ? likePieces(matcher, open, field) : besides(own, open);
    const positions = new Set(matches.map((match) => match.field));
    const named = matches.filter(({ heading }) => positionOf(heading) !== null);
    return positions.size === matches.length && named.length > 1 ? [{ field, matches }] : [];
  });
}

/** The columns whose headings without the piece mean a field, and a column of the whole part. */
function likePieces(matcher: Matcher, open: readonly Candidate[], field: Field): ColumnMatch[] {
  return open.flatMap(({ column, heading, evidence }): ColumnMatch[] => {
    const piece = positionOf(heading);
    const text = piece?.rest ?? heading;
    const words = matcher.likeness(text, field, piece === null ? evidence : together(evidence));
    if (words < (piece === null ? CERTAIN : ACCEPTED)) return [];
    if (words < CERTAIN && contradicts(evidence, field.holds)) return [];
    if (matcher.fields.some((other) => matcher.likeness(text, other, evidence) > words)) return [];
    const key = positionField(field.key, piece?.position ?? WHOLE);
    const confidence = Math.round(words * 100) / 100;
    return [{ field: key, column, heading, confidence, by: "heading" }];
  });
}

/** Dates in columns that stand beside each other are sure from fewer cells. */
function together(evidence: Evidence | null): Evidence | null {
  return evidence === null || evidence.filled === 0
    ? evidence
    : { ...evidence, filled: Math.max(evidence.filled, ENOUGH) };
}

/** A chosen column, and those that differ from it by the piece alone. */
function besides(own: ColumnMatch, open: readonly Candidate[]): ColumnMatch[] {
  const piece = positionOf(own.heading);
  if (piece === null) return [];
  const others = open.flatMap(({ column, heading }): ColumnMatch[] => {
    const position = isBeside(own.heading, heading) ? positionOf(heading)?.position : undefined;
    if (position === undefined) return [];
    const field = positionField(own.field, position);
    return [{ field, column, heading, confidence: 1, by: "heading" }];
  });
  return [{ ...own, field: positionField(own.field, piece.position) }, ...others];
}

/** Whether two headings say the same of two pieces of one part. */
export function isBeside(heading: string, other: string): boolean {
  const [one, two] = [positionOf(heading), positionOf(other)];
  if (one === null || two === null || one.position === two.position) return false;
  return sameWords(one.rest, two.rest);
}

function sameWords(one: string, other: string): boolean {
  const words = (text: string): string =>
    (text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? []).join(" ");
  return words(one) === words(other);
}
