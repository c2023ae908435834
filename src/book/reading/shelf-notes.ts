import { mustGo } from "../headings/job-text.ts";
import { remarkReader } from "../headings/remark-text.ts";
import { notice, wholeSheet } from "../records/problems.ts";
import type { Ours, Problem, ShelfItem } from "../records/records.ts";
import { findSheet, HEADING_ROW } from "../sheets/layout.ts";
import { readShelf, SHELF } from "../sheets/shelf.ts";
import { keyOf, quoted, textOf } from "../workbook/cells.ts";
import { sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { firstWords } from "./first-words.ts";
import { saidBeside } from "./job-notes.ts";
import type { Written } from "./swapped-jobs.ts";

/**
 * The programme with its Shelf, and what is told of that sheet. A row has what condemns it: what is damaged or must not
 * be used is no spare.
 */
export function withShelf(snapshot: Snapshot, ours: Ours): Written {
  const sheet = findSheet(snapshot, SHELF);
  if (sheet === null) return { ours, problems: lostShelf(snapshot) };
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

/** A sheet that is called and headed like the Shelf, and has lost its title. */
function lostShelf(snapshot: Snapshot): Problem[] {
  const sheet = sheetNamed(snapshot, SHELF.name);
  const texts = new Set(
    (sheet?.values.slice(0, ROWS) ?? []).flat().map((value) => keyOf(textOf(value))),
  );
  const headings = SHELF.columns.filter(({ heading }) => texts.has(keyOf(heading)));
  if (sheet === null || headings.length * 2 < SHELF.columns.length) return [];
  const cause = `${sheet.name} has the headings of our sheet of spares and not its title, so it is not read: nothing of it is in an order or a budget.`;
  const fix = `Put ${quoted(SHELF.title)} into cell A1 and the headings into row ${HEADING_ROW + 1}.`;
  return [notice("sheet not read", wholeSheet(sheet.name), cause, fix)];
}

const ROWS = 5;
