import { positionField } from "../records/positions.ts";
import type { ColumnMatch } from "../records/records.ts";
import { contradicts, type Evidence } from "./column-profile.ts";
import type { Field } from "./fields.ts";
import { ACCEPTED, type Candidate, CERTAIN, type Matcher } from "./match.ts";

/**
 * Words that tell the pieces of one part apart, each with what else says it. Ours are sides, the colours and
 * places of leads, and numbers; in languages we read, the sides.
 */
const POSITIONS: readonly (readonly string[])[] = [
  ["left", "l", "lh", "links", "linke", "linker", "linkes", "gauche", "izquierdo", "izquierda"],
  ["left", "izq", "esquerdo", "esquerda", "sinistro", "sinistra", "linker", "lewy", "lewa"],
  ["right", "r", "rh", "rechts", "rechte", "rechter", "rechtes", "droit", "droite", "derecho"],
  ["right", "derecha", "dcha", "direito", "direita", "destro", "destra", "prawy", "prawa"],
  ...["red", "white", "black", "blue", "green", "yellow"].map((colour) => [colour]),
  ...["forehead", "vertex", "nape", "neck", "cheek", "mastoid", "shoulder"].map((place) => [place]),
  ["upper", "top"],
  ["lower", "bottom"],
  ["1", "first", "1st"],
  ["2", "second", "2nd"],
  ["3", "third", "3rd"],
  ["4", "fourth", "4th"],
];
/** Cells from which on a column of dates shows that it is one. */
const ENOUGH = 3;
const POSITION_OF = new Map(
  POSITIONS.flatMap(([position = "", ...others]) =>
    [position, ...others].map((word): [string, string] => [word, position]),
  ),
);

/** A heading taken apart: which piece it speaks of, and what it says of it. */
interface Positioned {
  readonly position: string;
  readonly rest: string;
}

/** The piece a heading speaks of; null where it names none. */
export function positionOf(heading: string): Positioned | null {
  const named: string[] = [];
  const rest = heading.replaceAll(/[\p{L}\p{N}]+/gu, (word) => {
    const position = POSITION_OF.get(word.toLowerCase());
    if (position === undefined) return word;
    if (!named.includes(position)) named.push(position);
    return " ";
  });
  return named.length === 0 ? null : { position: named.sort().join(" "), rest: rest.trim() };
}

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
    if (!field.key.startsWith("last:") || refused.includes(field.key)) return [];
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
    const key = positionField(field.key, piece?.position ?? "whole");
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
