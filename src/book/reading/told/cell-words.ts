// What is wrong with a cell of dates, or said beside it, in words: cause and fix.
import { type Day, isoText } from "../../../core/day.ts";
import { listed } from "../../records/problems.ts";
import { firstWords } from "./first-words.ts";
import type { Words } from "./date-faults.ts";
import { stacked } from "./stacked-words.ts";

/** What is struck through holds no longer, and what holds in its place cannot be known. */
function struckDate(): Words {
  return [
    "The cell is struck through, in whole or in part, so it is not used.",
    "Type the date that holds, without the line; if nobody knows, do it now and type today's.",
  ];
}

/** A date whose number format writes words beside it, such as "planned". */
function wordsBeside(): Words {
  return [
    "Its number format writes words beside the date, so it is not used.",
    "Type the date it was done as a date.",
  ];
}

/** A cell that shows an error. */
function showsError(error: string): Words {
  return [`The cell shows ${error}.`, "Repair the formula, or type the value."];
}

/** Formulas that are calculated only when asked. */
function oldFormulas(): Words {
  return [
    "This workbook calculates its formulas only when asked, so what they show may be old.",
    "Calculate it (F9), or set it to calculate by itself; then read it again.",
  ];
}

/** A number that counts no day; eight digits may spell one, as in 20260504. */
function noDay(value: number, spelt: Day | null): Words {
  return [
    `${value} is a number that is not a date.`,
    spelt === null ? "Type the date as year-month-day." : `Type ${isoText(spelt)} as a date.`,
  ];
}

/** A date that a formula moves on by itself, so that it is the day of nothing that was done. */
function moving(): Words {
  return [
    "A formula in the cell moves the date on by itself, as TODAY() does.",
    "Type the date it was last replaced; if nobody knows, do it now and type today's date.",
  ];
}

/** Two dates of one replacement. */
function twoDates(date: Day, own: Day): Words {
  return [
    `The register has ${isoText(date)}, your own log ${isoText(own)}: they may be one replacement, so the earlier counts.`,
    "Correct the one that is wrong, or type the later one in the register if there were two.",
  ];
}

/** A remark that speaks against these devices, or these parts of them alone. */
function against(text: string, ids: readonly string[], codes: readonly string[] | null): Words {
  const only = codes === null ? "" : ` In doubt is ${listed(codes)} alone.`;
  return [
    `Of ${listed(ids)} it says ${firstWords(text)}.${only}`,
    "Settle it, correct the row (Retired for a device that has left), and clear the remark or move what it says to the Job log.",
  ];
}

/** A remark of which nothing comes. */
function openRemark(text: string): Words {
  return [
    `The remark ${firstWords(text)} may change a date and is not weighed.`,
    "See whether it changes a date.",
  ];
}

/** A comment of which nothing comes. */
function openComment(said: string): Words {
  return [
    `The cell has a comment that is not weighed: ${firstWords(said)}.`,
    "See whether it changes what stands there.",
  ];
}

export const CELL_WORDS = {
  ...{ struckDate, wordsBeside, showsError, noDay, moving, twoDates },
  ...{ against, openRemark, openComment, oldFormulas, stacked },
};
