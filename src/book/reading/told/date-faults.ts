// What is wrong with a date that a part was last replaced, in words: cause and fix.
import { type Day, isDay, isoText } from "../../../core/day.ts";
import { fromBuddhistEra, swapped } from "../../headings/dates.ts";
import { counted, listed } from "../../records/problems.ts";
import type { Job, Part } from "../../records/records.ts";
import { quoted } from "../../workbook/cells.ts";

export type Words = readonly [cause: string, fix: string];

/** A formula that a program wrote and none has calculated. */
function notCalculated(): Words {
  return [
    "The formula in the cell has no result, so there is no date.",
    "Open the book in a spreadsheet program and save it; if that shows none, type the date.",
  ];
}

/** A part's date is missing, with what the Job log has. */
function noDate({ name }: Part, logged: Day | null): Words {
  const fix =
    logged === null
      ? "Type the date it was last done; if nobody knows, do it now and type today's date."
      : `The Job log has ${isoText(logged)}: type it as a date.`;
  return [`There is no date for ${name}.`, fix];
}

/** A date that is the one of a log with day and month swapped. */
function isSwapped(date: Day, log: "the Job log" | "your own log", logged: Day): Words {
  return [
    `${isoText(date)} is ${log}'s ${isoText(logged)} with day and month swapped.`,
    `Type ${isoText(logged)} as a date.`,
  ];
}

/** A date after the report date. */
function future(date: Day, reportDate: Day): Words {
  const other = swapped(date);
  const ofEra = fromBuddhistEra(date);
  const hint =
    ofEra !== null
      ? ` If its year is one of the Buddhist era it is ${isoText(ofEra)}.`
      : other === null || other > reportDate || other === date
        ? ""
        : ` With day and month swapped it would be ${isoText(other)}.`;
  const cause = `${isoText(date)} is after the report date ${isoText(reportDate)}.`;
  return [cause, `Correct the date, or the report date.${hint}`];
}

/** A date longer ago than anybody believes. */
function outOfRange(date: Day, years: number): Words {
  return [
    `${isoText(date)} is more than ${years} years before the report date.`,
    "Correct the date.",
  ];
}

function beforeCommissioning(date: Day, commissioned: Day): Words {
  return [
    `${isoText(date)} is before the device was commissioned on ${isoText(commissioned)}.`,
    "Correct whichever of the two dates is wrong.",
  ];
}

function partialSet(date: Day, { part, named, complete }: PartialWork): Words {
  const day = `On ${isoText(date)} the log has a replacement`;
  if (named === null) {
    const of =
      part === ""
        ? "of no part that is named"
        : `of ${quoted(part)}, which is not on the Parts sheet`;
    return [
      `${day} ${of}, and none that counts.`,
      "Write the code or the name of a part in that row; if the code on Parts was changed, change it back.",
    ];
  }
  return complete === false
    ? [
        `${day} that does not count as a complete set, and none that does.`,
        "Type the date of the last complete replacement, or correct what stands under Complete set.",
      ]
    : [
        `${day} that is not marked as a complete set, and none that is.`,
        "Type the date of the last complete replacement, or write yes if it was complete.",
      ];
}

/** The row of a log that is of less than the part. */
type PartialWork = Pick<Job, "part" | "complete"> & { readonly named: Part | null };

function disagrees(date: Day, logged: Day): Words {
  return [
    `The register has ${isoText(date)}; the latest complete job in the Job log has ${isoText(logged)}.`,
    "Correct the one that is wrong.",
  ];
}

/** A date beside a job on one of two days. */
function openDay(date: Day, either: readonly Day[]): Words {
  return [
    `The register has ${isoText(date)}; the Job log has ${either.map(isoText).join(" or ")}, day and month swapped.`,
    "Find out which day it was, and correct both.",
  ];
}

/** The column may have been read with day and month swapped. */
function columnSwapped(date: Day, meant: Day, order: "day" | "month", example: string): Words {
  return [
    `Day and month may be swapped: ${isoText(date)} may be ${isoText(meant)}, since the texts of this column are written ${order} first, as in ${quoted(example)}, and only what can also be read the other way became a date.`,
    "Find out which of the two it is. If the other one is right for all of them, mend --swapped takes it and then turns the texts into dates; else correct these dates before the texts.",
  ];
}

/** Several dates of the column are after the report date, and would not be with day and month swapped. */
function oftenSwapped(date: Day, meant: Day, late: Day): Words {
  return [
    `Day and month may be swapped: ${isoText(date)} may be ${isoText(meant)}, since several dates of this column are after the report date as they stand, and would not be with day and month swapped, such as ${isoText(late)}.`,
    "Find out which of the two it is, and type it as a date.",
  ];
}

/** The shift of the other date system: of a whole sheet or column, or of one cell that a log contradicts. */
function shifted(isWhole: boolean, example: Day, shift: number): Words {
  const right = example + shift;
  const meant = isDay(right) ? isoText(right) : "another date";
  const cause = isWhole
    ? `The dates are 1,462 days off, as happens after copying from a workbook with the other date system: ${isoText(example)} should be ${meant}. They are not used.`
    : `${isoText(example)} is 1,462 days off the Job log's ${meant}, as happens after copying from a workbook with the other date system.`;
  const sign = shift > 0 ? "Add 1,462 days to" : "Subtract 1,462 days from";
  return [cause, isWhole ? `${sign} every date in it.` : `Type ${meant} as a date.`];
}

/** Dates below a heading, several of them ahead, that may be due dates; a named one is of a part or of work alone. */
function mayBeDue(
  heading: string,
  isNamed: boolean,
  dates: readonly Day[],
  reportDate: Day,
): Words {
  const ahead = dates.filter((date) => date > reportDate);
  const first = ahead[0] ?? reportDate;
  const cause = `${ahead.length} of ${dates.length} dates under ${quoted(heading)} are after the report date ${isoText(reportDate)}, such as ${isoText(first)}: they may be the days when the part is next due. None of them is used.`;
  const fix = isNamed
    ? `If they are due dates, say so in the heading, such as ${quoted(`${heading} next due`)}, and give the last replacements a column of their own. If they are last replacements, name it ${quoted(`${heading} replaced`)} and correct the dates, or the report date.`
    : "If they are planned or due dates, say so in the heading and give the last replacements a column of their own; else correct the dates, or the report date.";
  return [cause, fix];
}

function copiesDisagree(sheet: string, date: Day, device: string): Words {
  return [
    `${sheet} has ${isoText(date)} for ${device}.`,
    `Correct the one that is wrong; if ${sheet} is an old copy, say so in its name (${sheet} old).`,
  ];
}

/** Dates of a column that go on by one step over days off. */
function filled(heading: string, run: readonly (Day | null)[]): Words {
  const [first, last] = [run[0], run.at(-1)].map((date) => isoText(date ?? (0 as Day)));
  return [
    `${run.length} dates under ${quoted(heading)}, from ${first} to ${last}, go on by one and the same step, over days off too, as where a cell was filled down: they are not used.`,
    "Type the dates of the last replacements.",
  ];
}

/** Dates of a column that sticks out of its list. */
function moved(heading: string): Words {
  return [
    `Columns were moved up or down by a row: what sticks out at the end of the list is missing at its other end, so the dates under ${quoted(heading)} may be other devices'. They are not used.`,
    "Move the cells back into their rows.",
  ];
}

/** Cells or headings that were moved to one side. */
function aside(rows: number): Words {
  return [
    `In ${counted(rows, "row")} a date stands beside the columns of dates and one is missing below their headings, as where cells were moved to one side: the dates there may be another part's and are not used.`,
    "Move the cells, or the headings, back where they belong.",
  ];
}

/** A date of the register whose row in the Job log does not count. */
function undone(date: Day, sheet: string, row: number): Words {
  return [
    `The Job log's row of the replacement of ${isoText(date)} is not counted (${sheet}, row ${row + 1}), so the date is not used.`,
    "Correct that row, or type the date of the last replacement that was done.",
  ];
}

/** Devices with one serial number and the same dates. */
function pasted(ids: readonly string[]): Words {
  return [
    `${listed(ids)} have the same serial number and the same dates, as where rows were pasted over others: these dates are not used.`,
    "Write the serial number and the dates of each.",
  ];
}

/** Lines of a log that say the same of the same device on one day. */
function sameDay(sheet: string, date: Day, again: number): Words {
  return [
    `${quoted(sheet)} has ${isoText(date)} for the same work on the same device several times (${again} lines too many), as where a day was filled down: the lines of that day are not counted.`,
    "Type the days on which it was done.",
  ];
}

/** A log of which many lines are after the report date. */
function oftenLate(sheet: string, late: number, all: number): Words {
  return [
    `${late} of ${all} lines of ${quoted(sheet)} are after the report date, as where its days were altered together: none of its lines is counted as done; what they found stays open.`,
    "Correct the days, or the report date.",
  ];
}

export const DATE_FAULTS = {
  ...{ notCalculated, noDate, isSwapped, future, outOfRange, beforeCommissioning, partialSet },
  ...{ disagrees, openDay, columnSwapped, shifted, mayBeDue, copiesDisagree },
  ...{ filled, moved, aside, undone, pasted, oftenSwapped, sameDay, oftenLate },
};
