import { mustGo } from "../headings/job-text.ts";
import { remarkReader } from "../headings/remark-text.ts";
import type { Ours, Problem, ShelfItem } from "../records/records.ts";
import { findSheet } from "../sheets/layout.ts";
import { readShelf, SHELF } from "../sheets/shelf.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { firstWords } from "./first-words.ts";
import { saidBeside } from "./job-notes.ts";
import type { Written } from "./swapped-jobs.ts";

/**
 * The programme with its Shelf, and what is told of that sheet. A row has what condemns it: what is damaged or must not
 * be used is no spare.
 */
export function withShelf(snapshot: Snapshot, ours: Ours): Written {
  const sheet = findSheet(snapshot, SHELF);
  if (sheet === null) return { ours, problems: [] };
  const { items, problems } = readShelf(sheet, snapshot.dateSystem);
  const { says } = remarkReader(ours.parts);
  const beside = saidBeside(sheet, SHELF);
  const shelf = items.map((item): ShelfItem => {
    const said = beside(item.row).find((text) => says(text) === "against" || mustGo(text));
    return said === undefined ? item : { ...item, remark: firstWords(said) };
  });
  const faults = problems.filter(({ severity }: Problem) => severity === "fault");
  return { ours: { ...ours, shelf, doubts: [...ours.doubts, ...faults] }, problems };
}
