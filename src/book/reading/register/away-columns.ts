import { holdsDates, isAway } from "../../headings/match.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { quoted } from "../../workbook/cells.ts";
import type { Found } from "./register.ts";

const KNOWN = new Set(knownWords());

/** Columns that say since when devices are out of service: they may come back, so they stay in every list, which is told. */
export function awayColumns({ page, matching: { candidates, matches } }: Found): Problem[] {
  const used = new Set(matches.map(({ column }) => column));
  return candidates.flatMap(({ column, heading, evidence }): Problem[] => {
    if (used.has(column) || !holdsDates(evidence) || !isAway(wordsOf(heading, KNOWN))) return [];
    const cause = `${quoted(heading)} says since when devices are out of service, not that they are gone: they stay in all figures.`;
    const fix = `If they are gone for good, give --match "retiredOn=${heading}", or Column retiredOn in Setup.`;
    return [
      notice("unclear column", { sheet: page.sheet.name, row: null, column, heading }, cause, fix),
    ];
  });
}
