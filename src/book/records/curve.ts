import type { Part, PartField } from "./records.ts";

/** Fields that an interval follows from. */
const LIMITS: ReadonlySet<PartField> = new Set<PartField>([
  "code",
  "shortest",
  "longest",
  "useBudget",
  "lightUse",
  "heavyUse",
  "vinyl",
  "task",
]);

/** The part with its careful values taken for settled: what jobs that need an interval go by. */
export function settled(part: Part): Part {
  if (isSound(part)) return part;
  const read = { ...part, doubts: [] };
  if (isSound(read)) return read;
  const ends = [part.shortest, part.longest].filter((end) => end !== null);
  const months = Math.max(1, Math.min(...(ends.length === 0 ? [1] : ends)));
  return {
    ...read,
    shortest: months,
    longest: months,
    useBudget: null,
    lightUse: null,
    heavyUse: null,
  };
}

/**
 * Whether a part's limits and usage curve can be read and make sense; if not, every row of it says so.
 */
export function isSound(part: Part): boolean {
  const { shortest, longest, useBudget, lightUse, heavyUse, doubts } = part;
  if (doubts.some((field) => LIMITS.has(field))) return false;
  if (shortest === null || longest === null || shortest < 1 || shortest > longest || longest > 120)
    return false;
  if ((lightUse === null) !== (heavyUse === null)) return false;
  if (lightUse !== null && heavyUse !== null && !(lightUse >= 0 && lightUse <= heavyUse))
    return false;
  return (useBudget ?? 0) >= 0;
}

/** Whether the programme has stated how usage shortens the part's interval, and that can be read. */
export function hasCurve(part: Part): boolean {
  if (!isSound(part)) return false;
  return (part.useBudget ?? 0) > 0 || (part.lightUse !== null && part.heavyUse !== null);
}
