// What is wrong with a date that a part was last replaced, in words.
import { type Day, isoText } from "../../core/day.ts";
import { fromBuddhistEra, swapped } from "../headings/dates.ts";
import { type CellPlace, fault } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";

/** A formula that a program wrote and none has calculated. */
export function notCalculated(place: CellPlace): Problem {
  const cause = "The formula in the cell has no result, so there is no date.";
  const fix =
    "Open the book in a spreadsheet program and save it; if that shows none, type the date.";
  return fault("no date", place, cause, fix);
}

/** A part's date is missing, with what the Job log has. */
export function noDate(place: CellPlace, part: Part, logged: Day | null): Problem {
  const cause = `There is no date for ${part.name}.`;
  const fix =
    logged === null
      ? "Type the date it was last done; if nobody knows, do it now and type today's date."
      : `The Job log has ${isoText(logged)}: type it as a date.`;
  return fault("no date", place, cause, fix);
}

/** A date that is the Job log's with day and month swapped. */
export function isSwapped(place: CellPlace, date: Day, logged: Day): Problem {
  const cause = `${isoText(date)} is the Job log's ${isoText(logged)} with day and month swapped.`;
  return fault("day and month swapped", place, cause, `Type ${isoText(logged)} as a date.`);
}

/** A date after the report date. */
export function future(place: CellPlace, date: Day, reportDate: Day): Problem {
  const other = swapped(date);
  const ofEra = fromBuddhistEra(date);
  const hint =
    ofEra !== null
      ? ` If its year is one of the Buddhist era it is ${isoText(ofEra)}.`
      : other === null || other > reportDate || other === date
        ? ""
        : ` With day and month swapped it would be ${isoText(other)}.`;
  const cause = `${isoText(date)} is after the report date ${isoText(reportDate)}.`;
  return fault("future date", place, cause, `Correct the date, or the report date.${hint}`);
}

/** A date longer ago than anybody believes. */
export function outOfRange(place: CellPlace, date: Day, years: number): Problem {
  const cause = `${isoText(date)} is more than ${years} years before the report date.`;
  return fault("date out of range", place, cause, "Correct the date.");
}
