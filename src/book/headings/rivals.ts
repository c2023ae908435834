import { isLastDone, isPosition } from "../records/positions.ts";
import type { ColumnMatch } from "../records/records.ts";
import { type Candidate, holdsDates, type Matcher } from "./match.ts";

/**
 * Matches without those of parts of which another column of dates speaks too, such as "Spare electrodes replaced"
 * beside "Electrodes replaced": of another piece, or of the same one at another time. Which of them counts nobody can
 * tell by the words, and the wrong one could lengthen an interval: none is taken until one is chosen.
 */
export function withoutRivals(
  matcher: Matcher,
  matches: readonly ColumnMatch[],
  all: readonly Candidate[],
): ColumnMatch[] {
  const used = new Set(matches.map(({ column }) => column));
  const free = all.filter(({ column, evidence }) => !used.has(column) && holdsDates(evidence));
  return matches.filter((match) => {
    const field = matcher.fields.find(({ key }) => key === match.field);
    if (field === undefined || !isLastDone(field.key) || isPosition(field.key)) return true;
    return !free.some(({ heading }) => matcher.covers(heading, field));
  });
}
