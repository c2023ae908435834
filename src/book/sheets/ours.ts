import type { DateSystem, Day } from "../../core/day.ts";
import { DEFAULT_PARTS } from "../records/parts.ts";
import type { Ours, Problem } from "../records/records.ts";
import { chosenOver } from "../records/registers.ts";
import { OUR_SHEETS } from "./our-sheets.ts";
import { findSheet, HEADING_ROW, headingRow, textOf } from "./layout.ts";
import { HOLIDAYS, readHolidays } from "./holidays.ts";
import { PARTS, readParts } from "./parts.ts";
import { readSettings, SETUP } from "./setup.ts";
import { readShelf, SHELF } from "./shelf.ts";
import { readSites, SITES } from "./sites.ts";
import { readJobs, JOB_LOG } from "./job-log.ts";
import { type Sheet, sheetNamed, type Snapshot, valueAt } from "../workbook/snapshot.ts";
import { BookError } from "../workbook/errors.ts";
import { NAME } from "../records/names.ts";
import { type Settings, defaultSettings } from "../records/settings.ts";

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
  requireReadable(snapshot);
  const setup = settingsOf(findSheet(snapshot, SETUP), dateSystem, today);
  const holidays = holidaysOf(findSheet(snapshot, HOLIDAYS), dateSystem);
  const parts = partsOf(findSheet(snapshot, PARTS));
  const sites = findSheet(snapshot, SITES);
  const log = findSheet(snapshot, JOB_LOG);
  const shelf = findSheet(snapshot, SHELF);
  return {
    problems: [...setup.problems, ...parts.problems, ...holidays.problems],
    ours: {
      settings: overridden(setup.settings, overrides),
      parts: parts.parts,
      sites: sites ? readSites(sites) : [],
      holidays: holidays.days,
      jobs: log ? readJobs(log, dateSystem) : [],
      shelf: shelf ? readShelf(shelf, dateSystem) : [],
    },
  };
}

/**
 * A book that has our names or Setup, but a sheet of ours that can no longer be recognised, is refused:
 * falling back on defaults could lengthen intervals without a word.
 */
function requireReadable(snapshot: Snapshot): void {
  const isOurs =
    findSheet(snapshot, SETUP) !== null ||
    snapshot.names.some(({ name }) => name.toLowerCase() === NAME.reportDate.toLowerCase());
  if (!isOurs) return;
  for (const layout of OUR_SHEETS) {
    if (findSheet(snapshot, layout) !== null) continue;
    const isNeeded = layout === SETUP || layout === PARTS;
    if (!isNeeded && sheetNamed(snapshot, layout.name) === null) continue;
    throw new BookError(
      `The sheet ${layout.name} can no longer be read: put "${layout.title}" back into cell A1 and its headings into row ${HEADING_ROW + 1}.`,
    );
  }
}

/** The report date the workbook itself is judged on, null where it has no Setup. */
export function setupReportDate(snapshot: Snapshot, today: Day): Day | null {
  const setup = findSheet(snapshot, SETUP);
  if (setup === null) return null;
  return readSettings(setup, snapshot.dateSystem, defaultSettings(today)).settings.reportDate;
}

function settingsOf(sheet: Sheet | null, dateSystem: DateSystem, today: Day) {
  const usual = defaultSettings(today);
  if (sheet === null) return { settings: usual, problems: [] };
  const { settings, faults } = readSettings(sheet, dateSystem, usual);
  const problems = faults.map(({ row, label }) =>
    fault(sheet, [row, 1], `${label} cannot be used as it is; the default is used.`),
  );
  return { settings, problems };
}

function partsOf(sheet: Sheet | null) {
  if (sheet === null) return { parts: DEFAULT_PARTS, problems: [] };
  const { parts, faultyRows } = readParts(sheet);
  const cause = "The code must be capital letters only and appear only once; the row is not used.";
  return { parts, problems: faultyRows.map((row) => fault(sheet, [row, 0], cause)) };
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
    matches: chosenOver(settings.matches, overrides.matches ?? new Map()),
  };
}

function fault(sheet: Sheet, [row, column]: readonly [number, number], cause: string): Problem {
  const heading = textOf(valueAt(sheet, headingRow(sheet), column));
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
