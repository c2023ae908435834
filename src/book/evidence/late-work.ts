import { DATE_SYSTEM_SHIFT } from "../../core/day.ts";
import type { Turn } from "./on-time.ts";
import type { EvidenceReport } from "./report.ts";
import type { CellValue, Snapshot } from "../workbook/snapshot.ts";
import { periodText } from "./evidence-sheet.ts";
import { findSheet } from "../sheets/layout.ts";
import { readRows } from "../sheets/our-rows.ts";
import { rowKey } from "../sheets/kept-rows.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";

const DATE = "yyyy-mm-dd";

/** The Late work sheet: one row a replacement or task that was late or is still missing. */
const LATE_WORK = resultSheet({
  name: "Late work",
  title: "Late replacements and tasks",
  table: "SpareLateWork",
  about:
    "replacements and tasks past their due date, with room for the reason; those not done yet come first",
  room: 5000,
  columns: {
    Site: { width: 12, about: "Code from Sites.", cell: ({ site }) => site },
    Device: { width: 16, about: "As in the register.", cell: ({ device }) => device },
    Part: { width: 18, about: "Name from Parts.", cell: ({ part }) => part.name },
    "Interval began": {
      width: 14,
      format: DATE,
      about: "When it was last done before.",
      cell: ({ began }) => began,
    },
    Due: {
      width: 12,
      format: DATE,
      about: "By the interval at the report date.",
      cell: ({ due }) => due,
    },
    Done: {
      width: 12,
      format: DATE,
      about: "Blank: not done by the report date.",
      cell: ({ done }) => done,
    },
    "Days late": {
      width: 9,
      format: "0",
      about: "Days past the due date.",
      cell: ({ daysLate }) => daysLate,
    },
    Finding: {
      width: 12,
      about: "As logged with the replacement.",
      cell: ({ finding }) => finding || null,
    },
    Reason: {
      width: 44,
      input: true,
      about: "Why it was late; kept when the sheet is rewritten.",
    },
  } satisfies ResultColumns<Turn>,
  keys: ["Device", "Part", "Interval began"],
});

/** The Late work sheet of a period; rows with a reason from an earlier time stay below, as they stand. */
export function lateSheet(
  { reportDate, period, onTime }: EvidenceReport,
  snapshot: Snapshot,
): Result {
  const late = onTime.turns.filter(({ daysLate }) => daysLate > 0).sort(worstFirst);
  const keyOf = rowKey(LATE_WORK);
  const fresh = new Set(late.map((turn) => keyOf(LATE_WORK.cells(turn))));
  const earlier = reasonedRows(snapshot).filter((row) => !fresh.has(keyOf(row)));
  const result = LATE_WORK.filled({
    reportDate,
    answer: `${late.length} late, ${late.filter(({ done }) => done === null).length} of them not done yet`,
    notes: [
      periodText(period),
      "Due by today's interval, the shortest where usage is in doubt: earlier intervals are not in the workbook.",
      ...(earlier.length === 0 ? [] : ["Rows of earlier reports that have a reason come last."]),
    ],
    rows: late,
  });
  return { ...result, rows: [...result.rows, ...earlier] };
}

/** Rows that have a reason; dates as days. */
function reasonedRows(snapshot: Snapshot): CellValue[][] {
  const { layout } = LATE_WORK;
  const sheet = findSheet(snapshot, layout);
  if (sheet === null) return [];
  const shift = snapshot.dateSystem === 1904 ? DATE_SYSTEM_SHIFT : 0;
  return readRows(sheet, layout)
    .filter(({ values }) => values.has("Reason"))
    .map(({ values }) =>
      layout.columns.map(({ heading, format }): CellValue => {
        const value = values.get(heading) ?? null;
        return typeof value === "number" && format === DATE ? value + shift : value;
      }),
    );
}

/** Undone before done, then the longest late. */
function worstFirst(one: Turn, other: Turn): number {
  return (
    Number(one.done !== null) - Number(other.done !== null) ||
    other.daysLate - one.daysLate ||
    one.device.localeCompare(other.device, "en")
  );
}
