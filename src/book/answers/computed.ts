import { NAME, partName } from "../records/names.ts";
import type { Part } from "../records/records.ts";
import type { Day } from "../../core/day.ts";
import type { Edit } from "../workbook/plan.ts";
import type { Area, CellValue } from "../workbook/snapshot.ts";
import type { Answers } from "./answers.ts";
import {
  dateFault,
  ended,
  liveCheck,
  liveDue,
  liveFinding,
  liveMonths,
  months,
  nativeCheck,
  nativeDue,
  nativeState,
  orOwnDue,
  orOwnMonths,
  realZero,
  type RowCells,
  unlessRetired,
} from "./formula-pieces.ts";
import type { Computed } from "./titles.ts";
import { checkRule, stateChoices, stateRule } from "./looks.ts";

/**
 * A computed column of a part, complete. The native formula (Excel 2016 and LibreOffice: own row and
 * names only, so that sorting is harmless) and the one through our worksheet functions must give the
 * value, cell for cell.
 */
interface ComputedColumn {
  /** What it means, for Read me. */
  readonly about: string;
  readonly format: string;
  /** Width in characters. */
  readonly width: number;
  /** The cell, from the answers of its row. */
  readonly value: (answers: Answers, serial: (day: Day | null) => number | null) => CellValue;
  readonly portable: (part: Part, cells: RowCells) => string;
  readonly live: (part: Part, cells: RowCells) => string;
  /** Rules and choices that go with it. */
  readonly looks?: (sheet: string, area: Area) => readonly Edit[];
}

/** The computed columns of one kind of part, each declared once, in the order they are added. */
const COMPUTED = {
  interval: {
    about:
      "Whole months between replacements: by usage, the shortest interval in any doubt, or your own interval where the register has a shorter one.",
    format: "0",
    width: 11,
    value: ({ interval }) => interval,
    portable: (part, cells) =>
      unlessRetired(
        cells,
        '""',
        `IF(${partName(part, "Sound")},${orOwnMonths(months(part, cells), cells)},"")`,
      ),
    live: liveInterval,
  },
  due: {
    about:
      "Latest working day on or before the last replacement plus the interval, or your own due date where the register has an earlier one.",
    format: "yyyy-mm-dd",
    width: 12,
    // An empty due date shows as empty text, as the formula gives it.
    value: ({ due }, serial) => serial(due) ?? "",
    portable: (part, cells) => ifDue(cells, orOwnDue(nativeDue(part, cells), cells)),
    live: (part, cells) => ifDue(cells, orOwnDue(liveDue(part, cells), cells)),
  },
  state: {
    about: "▲ Overdue, ◆ Due soon, ○ Not due, ? Check row (no date can be given), – Retired.",
    format: "General",
    width: 14,
    value: ({ state }) => state,
    portable: (_, cells) => unlessRetired(cells, '"Retired"', ended(cells, nativeState(cells))),
    live: (_, cells) =>
      unlessRetired(
        cells,
        '"Retired"',
        `SPARE.DUESTATE(${cells.due},${NAME.reportDate},${realZero(NAME.noticeDays)},${liveFinding(cells)})`,
      ),
    looks: (sheet, area) => [stateRule(sheet, area), stateChoices(sheet, area)],
  },
  check: {
    about:
      "OK, or the first thing wrong in the row, which shortens the interval; or which limit of your own goes before ours.",
    format: "General",
    width: 24,
    value: ({ check }) => check,
    portable: (part, cells) => unlessRetired(cells, '"OK"', nativeCheck(part, cells)),
    live: (part, cells) => unlessRetired(cells, '"OK"', liveCheck(part, cells)),
    looks: (sheet, area) => [checkRule(sheet, area)],
  },
} as const satisfies Record<Computed, ComputedColumn>;

/** Every computed column with its key, in order. */
export const EACH_COMPUTED = Object.entries(COMPUTED) as readonly (readonly [
  Computed,
  ComputedColumn,
])[];

function liveInterval(part: Part, cells: RowCells): string {
  const months = orOwnMonths(liveMonths(part, cells), cells);
  return unlessRetired(cells, '""', `IF(${partName(part, "Sound")},${months},"")`);
}

/** A due date, where there is an interval and a date that can be trusted. */
function ifDue(cells: RowCells, date: string): string {
  const isKnown = `AND(ISNUMBER(${cells.interval}),${dateFault(cells)}="")`;
  return unlessRetired(cells, '""', `IF(${isKnown},${date},"")`);
}
