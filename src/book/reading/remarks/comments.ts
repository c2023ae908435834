import type { Day } from "../../../core/day.ts";
import { isLastDone } from "../../records/positions.ts";
import { type CellPlace, notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { speaksAgainstDate } from "../../headings/comment-text.ts";
import { trueDate } from "../../workbook/cells.ts";
import { cellKey } from "../../workbook/snapshot.ts";
import { wordsSaid } from "../told/first-words.ts";
import { placeIn } from "../register/cell-place.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";
import { faultLater, withWords } from "../told/told-later.ts";

/**
 * The faults of a register's dates with what the comments to their cells say. A comment that speaks against a date
 * puts it in doubt; a text with a comment is not certain to mean what it says.
 */
export function withComments(
  found: Found,
  named: readonly Named[],
  problems: readonly Problem[],
): Problem[] {
  const { page, register } = found;
  const { comments } = page.sheet;
  if (comments === undefined) return [...problems];
  const told: Problem[] = [];
  const amended = new Set<string>();
  // Of several problems of a cell the first counts.
  const keyed = new Map([...problems].reverse().map((one) => [keyOfCell(one), one]));
  for (const { column, field } of register.matches) {
    if (!isLastDone(field)) continue;
    const ofAll = comments.get(cellKey(register.headerRow, column));
    const isOfAll = ofAll !== undefined && speaksAgainstDate(wordsSaid(ofAll), null);
    if (ofAll !== undefined && !isOfAll) {
      told.push(unweighed(placeIn(found, register.headerRow, column), ofAll));
    }
    for (const { row, retired } of named) {
      // What speaks against the heading speaks against each of its dates.
      const said = comments.get(cellKey(row, column)) ?? (isOfAll ? ofAll : undefined);
      if (said === undefined || retired) continue;
      const place = placeIn(found, row, column);
      const before = keyed.get(keyOfCell(place));
      const date = trueDate(page, row, column);
      told.push(commented(place, said, { before, date }));
      amended.add(keyOfCell(place));
    }
  }
  // The first problem of a cell is the one that is told.
  return [...told, ...problems.filter((one) => !amended.has(keyOfCell(one)))];
}

function keyOfCell({ row, column }: Pick<Problem, "row" | "column">): string {
  return `${row}:${column}`;
}

function commented(
  place: CellPlace,
  said: string,
  { before, date }: { readonly before: Problem | undefined; readonly date: Day | null },
): Problem {
  const isAgainst = speaksAgainstDate(wordsSaid(said), date);
  if (date !== null && isAgainst) {
    return faultLater("comment", place, "commented", said, true, before);
  }
  if (before === undefined) return unweighed(place, said);
  return faultLater(before.kind, place, "commented", said, false, before);
}

/** A comment that changes nothing, told. */
export function unweighed(place: CellPlace, said: string): Problem {
  return withWords(notice("unweighed comment", place, "", ""), "openComment", said);
}
