import type { Part } from "./records.ts";

/** Whether a part's limits and usage curve make sense; if not, every row of it says so. */
export function isSound(part: Part): boolean {
  const { shortest, longest, useBudget, lightUse, heavyUse } = part;
  if (shortest === null || longest === null || shortest < 1 || shortest > longest || longest > 120)
    return false;
  if ((lightUse === null) !== (heavyUse === null)) return false;
  if (lightUse !== null && heavyUse !== null && !(lightUse >= 0 && lightUse <= heavyUse))
    return false;
  return (useBudget ?? 0) >= 0;
}

/** Whether the programme has stated how usage shortens the part's interval. */
export function hasCurve(part: Part): boolean {
  return (part.useBudget ?? 0) > 0 || (part.lightUse !== null && part.heavyUse !== null);
}
