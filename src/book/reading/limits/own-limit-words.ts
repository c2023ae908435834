import { type Day, fromSerial, isoText } from "../../../core/day.ts";
import type { Device, Ours, Problem } from "../../records/records.ts";
import { quoted, textOf } from "../../workbook/cells.ts";
import { cellKey, type CellValue } from "../../workbook/snapshot.ts";
import { ownLimitFaults } from "./own-limit-faults.ts";
import type { Why } from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

/** The problems of a register with words for those of its own limits, which were taken down without. */
export function wordedLimits(
  problems: readonly Problem[],
  { found, devices }: { readonly found: Found; readonly devices: readonly Device[] },
  ours: Ours,
): readonly Problem[] {
  if (problems.every(({ cause }) => cause !== "")) return problems;
  const words = new Map<number, Problem>();
  for (const one of ownLimitFaults(found, ours, devices, said)) {
    const key = cellKey(one.row ?? 0, one.column ?? 0);
    if (!words.has(key)) words.set(key, one);
  }
  return problems.map((one) => {
    if (one.cause !== "") return one;
    return words.get(cellKey(one.row ?? 0, one.column ?? 0)) ?? one;
  });
}

const TYPE_MONTHS = "Type whole months as a number, and (months) in the heading.";

/** Why a limit is not to be trusted, and what to do. */
function said(why: Why, value: CellValue, last: Day | null): readonly [string, string] {
  const written = quoted(textOf(value));
  const [day, since] = [typeof value === "number" ? fromSerial(value, 1900) : null, last].map(
    (one) => (one === null ? "" : isoText(one)),
  );
  const met = `${day} is not after the last replacement on ${since}, so it`;
  const words: Readonly<Record<Why, readonly [string, string]>> = {
    met: [
      `${met} is met, and our own due date counts.`,
      "Type the next date, or correct the last one.",
    ],
    "met, others stricter": [
      `${met} may be mistyped, and others' are stricter than ours.`,
      "Type the next date, or correct the last one.",
    ],
    copied: [
      `${day} is the last replacement, as in every row: one column was filled from the other.`,
      "Type the next date, or the last one, as it was.",
    ],
    far: [
      `${day} is later than ours, where most others are stricter: it may be mistyped.`,
      "Correct the date.",
    ],
    unread: [
      `${written} cannot be read, and it may be stricter than ours.`,
      "Type it as a date, or clear the cell.",
    ],
    missing: [
      "It holds no limit, where most others are stricter than ours, or it is merged.",
      "Type the limit of this device in its own cell.",
    ],
    "no result": [
      "The formula in the cell has no result, and it may be stricter than ours.",
      "Open the book in a spreadsheet program and save it.",
    ],
    "not whole": [`${written} is no interval of whole months.`, TYPE_MONTHS],
    fraction: [
      `${written} is no interval of whole months, and longer than others of its column.`,
      TYPE_MONTHS,
    ],
    long: [
      `${written} is longer than ours and the others of its column: it may be mistyped.`,
      TYPE_MONTHS,
    ],
    "no unit": [
      `${written} is longer than ours if it is months, and the heading does not say what it is.`,
      TYPE_MONTHS,
    ],
  };
  return words[why];
}
