import { READ_ME } from "./our-sheets.ts";
import { type Day, isoText } from "../../core/day.ts";
import type { Edit, Plan } from "../workbook/plan.ts";
import type { Reading } from "../records/records.ts";
import { doubtsSay } from "../records/doubts.ts";
import { setupEdits, sheetEdits } from "./sheets-plan.ts";
import { freeName } from "./layout.ts";
import { changeEdits, makeReadMe, PURPOSES, readMeSheet } from "./read-me.ts";
import type { TablePlace } from "./chart-place.ts";
import { placeOf, type Result, resultEdits } from "./result.ts";
import type { Snapshot } from "../workbook/snapshot.ts";

/** What a job changes in a book: sheets of results, and edits of its own. */
export interface Change {
  readonly results?: readonly Result[];
  readonly edits?: readonly Edit[];
  /** Pictures elsewhere that are drawn from the results, by where each of those stands. */
  readonly pictures?: (places: readonly TablePlace[]) => readonly Edit[];
  /** One line for the person who decides, and for Read me. */
  readonly summary: string;
}

/** The plan of a job: our sheets where they are missing, its results, and a line in Read me. */
export function resultPlan(
  snapshot: Snapshot,
  reading: Reading,
  change: Change & { readonly today: Day },
): Plan {
  const { summary, today } = change;
  // What cannot be trusted stands above everything that rests on it.
  const results = (change.results ?? []).map((result) => ({
    ...result,
    notes: [...doubtsSay(reading), ...result.notes],
  }));
  const edits: Edit[] = [
    ...sheetEdits(snapshot, reading).edits,
    ...setupEdits(snapshot, reading),
    ...(change.edits ?? []),
    ...results.flatMap((result) => resultEdits(snapshot, result)),
    ...(change.pictures?.(results.map((result) => placeOf(snapshot, result))) ?? []),
  ];
  if (edits.length === 0) return { summary: "nothing to change", edits };
  const line = `${isoText(today)}: ${summary}`;
  const readMe = readMeSheet(snapshot);
  edits.push(
    ...(readMe === null
      ? makeReadMe(freeName(snapshot, READ_ME.name), PURPOSES.values, line)
      : changeEdits(readMe, line)),
  );
  return { summary, edits };
}
