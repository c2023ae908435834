import type { DateSystem, Day } from "../core/day.ts";
import { DEFAULT_PARTS } from "./parts.ts";
import type { Ours, Problem, Settings } from "./records.ts";
import { findSheet, HEADING_ROW, textOf } from "./sheets/layout.ts";
import { HOLIDAYS, readHolidays } from "./sheets/holidays.ts";
import { PARTS, readParts } from "./sheets/parts.ts";
import { defaultSettings, readSettings, SETUP } from "./sheets/setup.ts";
import { readSites, SITES } from "./sheets/sites.ts";
import { readJobs, WORK_LOG } from "./sheets/work-log.ts";
import { type Sheet, type Snapshot, valueAt } from "./snapshot.ts";

/** What a person says for this run only; it goes before Setup. */
export interface Overrides {
  readonly reportDate?: Day;
  readonly dayOrder?: "dmy" | "mdy";
  readonly matches?: ReadonlyMap<string, string>;
}

/** Our own sheets read, or the defaults a book without them starts with. */
export function readOurs(
  snapshot: Snapshot,
  today: Day,
  overrides: Overrides = {},
): { readonly ours: Ours; readonly problems: readonly Problem[] } {
  const { dateSystem } = snapshot;
  const setup = settingsOf(findSheet(snapshot, SETUP), dateSystem, today);
  const holidays = holidaysOf(findSheet(snapshot, HOLIDAYS), dateSystem);
  const parts = findSheet(snapshot, PARTS);
  const sites = findSheet(snapshot, SITES);
  const log = findSheet(snapshot, WORK_LOG);
  return {
    problems: [...setup.problems, ...holidays.problems],
    ours: {
      settings: overridden(setup.settings, overrides),
      parts: parts ? readParts(parts) : DEFAULT_PARTS,
      sites: sites ? readSites(sites) : [],
      holidays: holidays.days,
      jobs: log ? readJobs(log, dateSystem) : [],
    },
  };
}

function settingsOf(sheet: Sheet | null, dateSystem: DateSystem, today: Day) {
  const usual = defaultSettings(today);
  if (sheet === null) return { settings: usual, problems: [] };
  const { settings, faults } = readSettings(sheet, dateSystem, usual);
  const problems = faults.map(({ row, label }) =>
    fault(sheet, [row, 1], `${label} cannot be used as it stands; its default is used.`),
  );
  return { settings, problems };
}

function holidaysOf(sheet: Sheet | null, dateSystem: DateSystem) {
  if (sheet === null) return { days: [], problems: [] };
  const { holidays, faultyRows } = readHolidays(sheet, dateSystem);
  const problems = faultyRows.map((row) => fault(sheet, [row, 0], "The holiday is not a date."));
  return { days: holidays, problems };
}

function overridden(settings: Settings, overrides: Overrides): Settings {
  return {
    ...settings,
    reportDate: overrides.reportDate ?? settings.reportDate,
    dayOrder: overrides.dayOrder ?? settings.dayOrder,
    matches: new Map([...settings.matches, ...(overrides.matches ?? [])]),
  };
}

function fault(sheet: Sheet, [row, column]: readonly [number, number], cause: string): Problem {
  const heading = textOf(valueAt(sheet, HEADING_ROW, column));
  const fix = "Correct the cell.";
  return {
    kind: "our sheet",
    sheet: sheet.name,
    row,
    column,
    heading,
    cause,
    fix,
    severity: "fault",
  };
}
