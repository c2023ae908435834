import type { Day } from "../../core/day.ts";
import { moves } from "../workbook/moving.ts";
import { DEFAULT_PARTS } from "../records/parts.ts";
import type { Ours, Problem } from "../records/records.ts";
import { chosenOver } from "../records/registers.ts";
import { OUR_SHEETS } from "./our-sheets.ts";
import { findSheet, HEADING_ROW, type Layout } from "./layout.ts";
import { HOLIDAYS, readHolidays } from "./holidays.ts";
import { PARTS } from "./parts.ts";
import { readParts } from "./parts-read.ts";
import { SETUP } from "./setup.ts";
import { readSettings } from "./setup-read.ts";
import { readSites, SITES } from "./sites.ts";
import { readJobs, JOB_LOG } from "./job-log.ts";
import { type Sheet, sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { BookError } from "../workbook/errors.ts";
import { NAME } from "../records/names.ts";
import { type Settings, SETTINGS, defaultSettings } from "../records/settings.ts";

/** What a person says for this run only; it goes before Setup. */
export interface Overrides {
  readonly reportDate?: Day;
  readonly dayOrder?: "dmy" | "mdy";
  readonly matches?: ReadonlyMap<string, string>;
}

/** Our own sheets read, or the defaults a book without them starts with; the Shelf, of which no date comes, is read later. */
export function readOurs(
  snapshot: Snapshot,
  today: Day,
  overrides: Overrides = {},
): { readonly ours: Ours; readonly problems: readonly Problem[] } {
  const { dateSystem } = snapshot;
  requireReadable(snapshot);
  const read = <T>(layout: Layout, reader: (sheet: Sheet) => T, none: T): T => {
    const sheet = findSheet(snapshot, layout);
    return sheet === null ? none : reader(sheet);
  };
  const usual = defaultSettings(today);
  const none: readonly Problem[] = [];
  const setup = read(SETUP, (sheet) => readSettings(sheet, dateSystem, usual), {
    settings: usual,
    problems: none,
  });
  const parts = read(PARTS, readParts, { parts: DEFAULT_PARTS, problems: none });
  const sites = read(SITES, readSites, { sites: [], problems: none });
  const days = { holidays: [], unread: 0, problems: none };
  const holidays = read(HOLIDAYS, (sheet) => readHolidays(sheet, dateSystem), days);
  const log = read(
    JOB_LOG,
    (sheet) => readJobs(sheet, dateSystem, (key) => moves(snapshot, sheet, key)),
    { jobs: [], problems: none },
  );
  const told = [setup, parts, sites, holidays, log].flatMap(({ problems }) => problems);
  const faults = told.filter(({ severity }) => severity === "fault");
  const settings = overridden(setup.settings, overrides);
  // A day said for this run goes before Setup's.
  const doubts =
    overrides.reportDate === undefined
      ? faults
      : faults.filter(({ heading }) => heading !== SETTINGS.reportDate.label);
  return {
    problems: told,
    ours: {
      settings,
      parts: parts.parts,
      sites: sites.sites,
      holidays: holidays.holidays,
      unreadHolidays: holidays.unread,
      jobs: log.jobs,
      shelf: [],
      doubts,
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
    if (sheetNamed(snapshot, layout.name) === null) {
      throw new BookError(
        `The sheet ${layout.name} is gone: bring it back from an earlier copy of this workbook.`,
      );
    }
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

function overridden(settings: Settings, overrides: Overrides): Settings {
  const doubted = new Set(settings.doubted);
  if (overrides.reportDate !== undefined) doubted.delete("reportDate");
  return {
    ...settings,
    doubted,
    reportDate: overrides.reportDate ?? settings.reportDate,
    dayOrder: overrides.dayOrder ?? settings.dayOrder,
    matches: chosenOver(settings.matches, overrides.matches ?? new Map()),
  };
}
