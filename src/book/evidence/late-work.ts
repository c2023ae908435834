import { DATE_SYSTEM_SHIFT } from "../../core/day.ts";
import type { Turn } from "./on-time.ts";
import type { KeptReport } from "./report.ts";
import type { CellValue, Snapshot } from "../workbook/snapshot.ts";
import { periodText } from "./evidence-sheet.ts";
import { findSheet, type Layout, readRows } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const DATE = "yyyy-mm-dd";

/** The Late work sheet: one row a replacement or task that was late or is still missing. */
const LATE_WORK: Layout = {
  name: "Late work",
  title: "Late replacements and tasks",
  table: "SpareLateWork",
  about: "replacements and tasks past their due date, with room for the reason; undone ones first",
  room: 5000,
  columns: [
    { heading: "Site", width: 12, about: "Code from Sites." },
    { heading: "Device", width: 16, about: "As in the register." },
    { heading: "Part", width: 18, about: "Name from Parts." },
    { heading: "Interval began", width: 14, format: DATE, about: "Done last before." },
    { heading: "Due", width: 12, format: DATE, about: "By the interval of the report date." },
    { heading: "Done", width: 12, format: DATE, about: "Blank: not by the report date." },
    { heading: "Days late", width: 9, format: "0", about: "Days past the due date." },
    { heading: "Finding", width: 12, about: "As logged with the replacement." },
    {
      heading: "Reason",
      width: 44,
      input: true,
      about: "Why it was late; kept when the sheet is written anew.",
    },
  ],
};

/** The Late work sheet of a period; rows with a reason from an earlier time stay below, as they stand. */
export function lateSheet({ reportDate, period, onTime }: KeptReport, snapshot: Snapshot): Result {
  const fresh = onTime.turns
    .filter(({ daysLate }) => daysLate > 0)
    .sort(worstFirst)
    .map(turnCells);
  const earlier = reasonedRows(snapshot, new Set(fresh.map(keyText)));
  return {
    layout: LATE_WORK,
    reportDate,
    notes: [
      periodText(period),
      "Due by the interval of today, the shortest where usage is in doubt: earlier intervals are not in the book.",
      ...(earlier.length === 0 ? [] : ["Rows of earlier reports that have a reason stand last."]),
    ],
    rows: [...fresh, ...earlier],
    keys: KEYS,
  };
}

const KEYS = ["Device", "Part", "Interval began"];

function keyText(row: readonly CellValue[]): string {
  const cells = KEYS.map((key) => LATE_WORK.columns.findIndex(({ heading }) => heading === key));
  return JSON.stringify(cells.map((at) => row[at] ?? null));
}

/** Rows somebody gave a reason for that are not among these; dates as days. */
function reasonedRows(snapshot: Snapshot, fresh: ReadonlySet<string>): CellValue[][] {
  const sheet = findSheet(snapshot, LATE_WORK);
  if (sheet === null) return [];
  const shift = snapshot.dateSystem === 1904 ? DATE_SYSTEM_SHIFT : 0;
  return readRows(sheet, LATE_WORK)
    .filter(({ values }) => values.has("Reason"))
    .map(({ values }) =>
      LATE_WORK.columns.map(({ heading, format }): CellValue => {
        const value = values.get(heading) ?? null;
        return typeof value === "number" && format === DATE ? value + shift : value;
      }),
    )
    .filter((row) => !fresh.has(keyText(row)));
}

/** Undone before done, then the longest late. */
function worstFirst(one: Turn, other: Turn): number {
  return (
    Number(one.done !== null) - Number(other.done !== null) ||
    other.daysLate - one.daysLate ||
    one.device.localeCompare(other.device, "en")
  );
}

function turnCells({ site, device, part, began, due, done, daysLate, finding }: Turn): CellValue[] {
  return [site, device, part.name, began, due, done, daysLate, finding || null, null];
}
