import { nextDue } from "../../core/due.ts";
import { workCalendar } from "../../core/workday.ts";
import { keyOf } from "../workbook/cells.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { sumNeed } from "./need.ts";
import type { Year } from "./year.ts";
import type { Layout } from "../sheets/layout.ts";
import type { Result } from "../sheets/result.ts";

const DATE = "yyyy-mm-dd";

/** The Year by device sheet: one row a part in use, what the year's sums are made of. */
const YEAR_UNITS: Layout = {
  name: "Year by device",
  title: "Year ahead by device",
  table: "SpareYearUnits",
  about:
    "every part in use with its intervals and its share of the year; the sums are made of these",
  room: 100_000,
  columns: [
    { heading: "Part", width: 18, about: "Name from Parts." },
    { heading: "Site", width: 12, about: "Code from Sites." },
    { heading: "Device", width: 14, about: "As in the register; blank for a supposed device." },
    {
      heading: "Interval began",
      width: 14,
      format: DATE,
      about: "Last replaced, as far as it can be trusted.",
    },
    {
      heading: "Interval now (months)",
      width: 12,
      format: "0",
      about: "As in the register, or as supposed.",
    },
    {
      heading: "Next due",
      width: 12,
      format: DATE,
      about: "Blank where it is taken as due at once.",
    },
    {
      heading: "Uses a month expected",
      width: 12,
      format: "0.0",
      about: "Over the time ahead; the device's share of its site.",
    },
    { heading: "Interval then (months)", width: 12, format: "0", about: "By the uses expected." },
    { heading: "Planned", width: 10, format: "0.00", about: "Replacements on their due date." },
    { heading: "Early", width: 10, format: "0.00", about: "Expected before the due date." },
    { heading: "Expected", width: 10, format: "0.00", about: "Planned and early together." },
    {
      heading: "Doubt",
      width: 34,
      about: "What is not to be trusted; it shortens, never lengthens.",
    },
  ],
};

/** The Year by device sheet of a programme. */
export function unitsSheet(year: Year): Result {
  const { reportDate } = year.horizon;
  const { settings, holidays } = year.reading.ours;
  const calendar = workCalendar(settings.weekend, holidays);
  const rows = year.parts.flatMap(({ part, units, unitNeeds }) =>
    units.map((unit, at): CellValue[] => {
      const { scheduled, unplanned } = sumNeed(unitNeeds[at] ?? []);
      const known = !unit.doubt.endsWith("at once");
      const uses = year.use.devices.get(keyOf(unit.device));
      return [
        part.name,
        unit.site || null,
        unit.device || null,
        known ? unit.lastDone : null,
        unit.months,
        known ? nextDue(unit.lastDone, unit.months, calendar) : null,
        part.task ? null : (uses ?? null),
        unit.then,
        scheduled,
        unplanned,
        scheduled + unplanned,
        unit.doubt || null,
      ];
    }),
  );
  return { layout: YEAR_UNITS, reportDate, notes: [], rows };
}
