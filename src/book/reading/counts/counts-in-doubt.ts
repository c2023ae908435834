import { fault, listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { quoted } from "../../workbook/cells.ts";
import type { Met, Why } from "./count-parts.ts";
import { firstWords } from "../told/first-words.ts";
import { monthText } from "./gaps.ts";

interface Group {
  readonly sheet: string;
  /** What these counts are of, in a sentence. */
  readonly of: string;
  readonly other: string;
}

type Tell = (group: Group) => readonly [cause: string, fix: string];

const NOTHING_LONGER = "so they are in doubt and lengthen no interval.";

/** What is said of counts that met others of the same device and month. */
const TELLS: Readonly<Record<Exclude<Why, "replaced">, Tell>> = {
  added: ({ of }) => [
    `Rows of ${of} stand for the same month and differ by a text beside them; their counts are added.`,
    "Keep one row for each device and month if they are no parts of one count.",
  ],
  rows: ({ of }) => [
    `Several rows give counts of ${of}, and nothing says whether they are parts of one count, ${NOTHING_LONGER}`,
    "Keep one row for each device and month, or write beside each row what part it is, such as the ward.",
  ],
  beneath: ({ of }) => [
    `A row without a device has counts below those of ${of}, and no text says which part they are, ${NOTHING_LONGER}`,
    "Write the device in each row, and beside it what part the row is, such as the shift; or add the rows up.",
  ],
  columns: ({ of }) => [
    `Several columns give counts of ${of}, ${NOTHING_LONGER}`,
    "Keep one column for each month, with all its uses.",
  ],
  sheets: ({ sheet, of, other }) => [
    `${quoted(other)} and ${quoted(sheet)} both have counts of ${of}, which may be parts of one count, ${NOTHING_LONGER}`,
    `Add them up on one sheet; if one of them has all uses, choose it: --match "counts=${sheet}", or a row Counts in Setup.`,
  ],
  "not used": ({ sheet, of, other }) => [
    `${quoted(other)} has numbers of ${of} as well, and is not used: they may be a part of the uses that ${quoted(sheet)} lacks, ${NOTHING_LONGER}`,
    `Add them up on one sheet; if ${quoted(sheet)} has all uses, choose it: --match "counts=${sheet}", or a row Counts in Setup.`,
  ],
  newest: ({ of }) => [
    `Numbers whose month cannot be read, is to come or stands twice may be newer than the counts of ${of}, ${NOTHING_LONGER}`,
    "Write the month of each, such as 2026-06, in its heading or beside it.",
  ],
  copied: ({ of }) => [
    `Counts of ${of} are those of the month before, device by device, as where a column was copied to be typed over, ${NOTHING_LONGER}`,
    "Type the counts of the month.",
  ],
  counter: ({ of }) => [
    `Counts of ${of} never fall from month to month, as readings of a counter do, ${NOTHING_LONGER}`,
    "Type the uses of each month: its reading less that of the month before.",
  ],
  marked: ({ of }) => [
    `Counts of ${of} are struck through or have a comment that speaks against them, ${NOTHING_LONGER}`,
    "Type the right count, then clear the line or the comment.",
  ],
  order: ({ sheet, of }) => [
    `${quoted(sheet)} goes by months and ends with an earlier one, whose numbers may be newer than the counts of ${of}, ${NOTHING_LONGER}`,
    "Correct the months of the last rows, or move these rows to their place.",
  ],
  fallen: ({ of }) => [
    `Counts of ${of} are far below those of the month before, of nearly all devices at once, as where they were divided or cut off, ${NOTHING_LONGER}`,
    "Correct them; if there is so little use now, nothing needs to be done: a year on they count.",
  ],
  alike: ({ of }) => [
    `Counts of ${of} are one and the same number for all devices, as where a cell was filled down, ${NOTHING_LONGER}`,
    "Type the counts of each device.",
  ],
  moved: ({ sheet, of }) => [
    `Columns of ${quoted(sheet)} were moved up or down by a row: what sticks out at the end of the list is missing at its other end, so the counts of ${of} may be other devices', ${NOTHING_LONGER}`,
    "Move the cells back into their rows.",
  ],
  negative: ({ sheet, of }) => [
    `Many numbers of ${quoted(sheet)} are below zero, as differences are, so those of ${of} may be none of uses either, ${NOTHING_LONGER}`,
    "Type the counts of each month.",
  ],
  lacking: ({ sheet, of, other }) => [
    `On ${quoted(sheet)} stands ${firstWords(other)}, so the counts of ${of} may lack some, ${NOTHING_LONGER}`,
    "Add what is missing to the counts, then clear what says so.",
  ],
  fewer: ({ of }) => [
    `Counts of ${of} are sums of fewer rows than in a month before, ${NOTHING_LONGER}`,
    "Type what is missing; 0 where there was no use.",
  ],
};

/** Counts in doubt and counts that were added, told once for each sheet and cause. */
export function countsInDoubt(met: readonly Met[]): Problem[] {
  const groups = new Map<string, Met[]>();
  for (const one of met) {
    const isDoubted = one.why !== "added" || one.count.count === null;
    const key = JSON.stringify([one.why, one.count.sheet, one.other, isDoubted]);
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].flatMap(toldOnce);
}

function toldOnce(group: readonly Met[]): Problem[] {
  const [first] = group;
  if (first === undefined || first.why === "replaced") return [];
  const { why, count, other } = first;
  const isAdded = why === "added" && count.count !== null;
  const tell = TELLS[why === "added" && !isAdded ? "rows" : why];
  const [cause, fix] = tell({ sheet: count.sheet, of: ofWhat(group), other });
  const [say, kind] = isAdded
    ? ([notice, "counted twice"] as const)
    : ([fault, "counts in doubt"] as const);
  return [say(kind, wholeSheet(count.sheet), cause, fix)];
}

/** "VR-01 and VR-02, 2026-01 to 2026-05". */
function ofWhat(group: readonly Met[]): string {
  const devices = [...new Set(group.map(({ count }) => count.device))];
  const months = group.map(({ count }) => monthText(count.month)).sort();
  const [first = "", last = ""] = [months[0], months.at(-1)];
  return `${listed(devices.map(quoted))} (${first === last ? first : `${first} to ${last}`})`;
}
