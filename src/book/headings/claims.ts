import type { ColumnMatch } from "../records/records.ts";
import { isLastDone } from "../records/positions.ts";
import { contradicts, fits } from "./column-profile.ts";
import type { Field } from "./fields.ts";
import { ACCEPTED, type Candidate, CERTAIN, isBare, type Matcher } from "./match.ts";

/** What matching found, and where it must ask. */
export interface Matched {
  readonly matches: readonly ColumnMatch[];
  /** Columns that fit a field equally well, or say "last replaced" without the part. */
  readonly unclear: readonly { readonly field: Field; readonly columns: readonly Candidate[] }[];
}

const EVIDENCE_WEIGHT = 0.05;
const TIE = 0.02;
/** Cells from which on it shows whether they repeat, and shares of different ones among them. */
const ENOUGH = 4;
const NEARLY_ALL = 0.9;
const HALF = 0.5;
/** A column is given to a field only when no other field fits it better by this much. */
const OWN_BEST = 0.1;

/** A column that may be a field, and how well. */
interface Claim {
  readonly candidate: Candidate;
  readonly field: Field;
  readonly words: number;
  readonly score: number;
}

/** One column for each field, the better match keeps it; ties are reported. */
export function matchColumns(matcher: Matcher, candidates: readonly Candidate[]): Matched {
  const claims = withoutRepeating(candidates.flatMap((candidate) => claimsOf(matcher, candidate)));
  claims.sort(
    (one, other) => other.score - one.score || one.candidate.column - other.candidate.column,
  );
  const byField = new Map<string, Claim>();
  const taken = new Set<number>();
  const rivals = new Map<string, Claim[]>();
  for (const claim of claims) {
    if (taken.has(claim.candidate.column)) continue;
    const keeper = byField.get(claim.field.key);
    if (keeper === undefined) {
      byField.set(claim.field.key, claim);
      taken.add(claim.candidate.column);
    } else if (keeper.score - claim.score < TIE) {
      rivals.set(claim.field.key, [...(rivals.get(claim.field.key) ?? [keeper]), claim]);
    }
  }
  const unclear = unclearOf(rivals, taken);
  return { matches: matchesOf(byField, new Set(unclear.map(({ field }) => field.key))), unclear };
}

/** A column that says the same again and again names no devices where another says each once. */
function withoutRepeating(claims: readonly Claim[]): Claim[] {
  const distinct = ({ field, candidate: { evidence } }: Claim): number | null =>
    field.holds === "id" && evidence !== null && evidence.filled >= ENOUGH
      ? evidence.distinct
      : null;
  const hasUnique = claims.some((claim) => (distinct(claim) ?? 0) >= NEARLY_ALL);
  // Nor does one of a small table beside it.
  const filled = ({ field, candidate: { evidence } }: Claim): number =>
    field.holds === "id" ? (evidence?.filled ?? 0) : Infinity;
  const most = Math.max(...claims.map(filled).filter(Number.isFinite));
  return claims.filter(
    (claim) => filled(claim) >= most * HALF && (!hasUnique || (distinct(claim) ?? 1) >= HALF),
  );
}

function matchesOf(
  byField: ReadonlyMap<string, Claim>,
  unclear: ReadonlySet<string>,
): ColumnMatch[] {
  const matches: ColumnMatch[] = [];
  for (const [key, { candidate, words }] of byField) {
    // The wrong one of two dates could lengthen an interval: neither is taken until one is chosen.
    if (unclear.has(key) && isLastDone(key)) continue;
    const confidence = unclear.has(key) ? 0.5 : Math.round(words * 100) / 100;
    const { column, heading } = candidate;
    matches.push({ field: key, column, heading, confidence, by: "heading" });
  }
  return matches.sort((one, other) => one.column - other.column);
}

function unclearOf(
  rivals: ReadonlyMap<string, readonly Claim[]>,
  taken: ReadonlySet<number>,
): Matched["unclear"] {
  return [...rivals.values()].flatMap((claims) => {
    const [keeper] = claims;
    if (keeper === undefined) return [];
    const columns = claims
      .map((claim) => claim.candidate)
      .filter((candidate) => candidate === keeper.candidate || !taken.has(candidate.column));
    return columns.length < 2 ? [] : [{ field: keeper.field, columns }];
  });
}

/** The fields a column may be: good words, no contradiction, close to its best field. */
function claimsOf(matcher: Matcher, candidate: Candidate): Claim[] {
  const { heading, evidence } = candidate;
  const claims: Claim[] = [];
  let best = 0;
  for (const field of matcher.fields) {
    const words = matcher.likeness(heading, field, evidence);
    if (words < ACCEPTED) continue;
    if (words > best) best = words;
    const isLast = isLastDone(field.key);
    const certain = words >= CERTAIN && isLast;
    if (!certain && contradicts(evidence, field.holds)) continue;
    if (!certain && isLast && evidence !== null && isBare(evidence)) continue;
    const score = words + EVIDENCE_WEIGHT * (fits(evidence, field.holds) - 0.5);
    claims.push({ candidate, field, words, score });
  }
  return claims.filter((claim) => claim.words > best - OWN_BEST);
}
