import type { Day } from "../../core/day.ts";
import { nextDue } from "../../core/due.ts";
import { calendarOf } from "../records/work-calendar.ts";
import { keyOf } from "../workbook/cells.ts";
import { sumNeed } from "./need.ts";
import type { Year } from "./year.ts";
import type { Result } from "../sheets/result.ts";
import { type ResultColumns, resultSheet } from "../sheets/result-sheet.ts";
import type { YearUnit } from "./fleet.ts";

const DATE = "yyyy-mm-dd";

/** A part in use with its share of the year. */
interface UnitYear {
  readonly unit: YearUnit;
  /** Uses a month its device is expected to have; null where it is unknown. */
  readonly uses: number | null;
  /** Null where it is taken as due at once. */
  readonly began: Day | null;
  readonly due: Day | null;
  readonly scheduled: number;
  readonly unplanned: number;
}

/** The Year by device sheet: one row a part in use, what the year's sums are made of. */
const YEAR_UNITS = resultSheet({
  name: "Year by device",
  title: "Year ahead by device",
  table: "SpareYearUnits",
  about:
    "every part in use with its intervals and its share of the year; the totals are built from these",
  room: 100_000,
  columns: {
    Part: { width: 18, about: "Name from Parts, and its position.", cell: ({ unit }) => unit.name },
    Site: { width: 12, about: "Code from Sites.", cell: ({ unit }) => unit.site || null },
    Device: {
      width: 14,
      about: "As in the register; blank for an assumed device.",
      cell: ({ unit }) => unit.device || null,
    },
    "Interval began": {
      width: 14,
      format: DATE,
      about: "Last replaced, if the date can be trusted.",
      cell: ({ began }) => began,
    },
    "Interval now (months)": {
      width: 12,
      format: "0",
      about: "As in the register, or as assumed.",
      cell: ({ unit }) => unit.months,
    },
    "Next due": {
      width: 12,
      format: DATE,
      about: "Blank where it is taken as due at once.",
      cell: ({ due }) => due,
    },
    "Uses a month expected": {
      width: 12,
      format: "0.0",
      about: "Over the time ahead; the device's share of its site.",
      cell: ({ unit, uses }) => (unit.part.task ? null : uses),
    },
    "Interval then (months)": {
      width: 12,
      format: "0",
      about: "By the uses expected.",
      cell: ({ unit }) => unit.then,
    },
    "On schedule": {
      width: 10,
      format: "0.00",
      about: "Replacements on their due date.",
      cell: ({ scheduled }) => scheduled,
    },
    Early: {
      width: 10,
      format: "0.00",
      about: "Expected before the due date.",
      cell: ({ unplanned }) => unplanned,
    },
    Expected: {
      width: 10,
      format: "0.00",
      about: "On schedule and early together.",
      cell: ({ scheduled, unplanned }) => scheduled + unplanned,
    },
    Doubt: {
      width: 34,
      about: "What cannot be trusted; it shortens the interval, never lengthens it.",
      cell: ({ unit }) => unit.doubt || null,
    },
  } satisfies ResultColumns<UnitYear>,
});

/** The Year by device sheet of a programme. */
export function unitsSheet(year: Year): Result {
  const { reportDate } = year.horizon;
  const calendar = calendarOf(year.reading.ours);
  const rows = year.parts.flatMap(({ units, unitNeeds }) =>
    units.map((unit, at): UnitYear => {
      const known = !unit.dueAtOnce;
      return {
        unit,
        uses: year.use.devices.get(keyOf(unit.device)) ?? null,
        began: known ? unit.lastDone : null,
        due: known ? nextDue(unit.lastDone, unit.months, calendar) : null,
        ...sumNeed(unitNeeds[at] ?? []),
      };
    }),
  );
  return YEAR_UNITS.filled({ reportDate, notes: [], rows });
}
