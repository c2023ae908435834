import { monthStart } from "../../core/day.ts";
import { type Page, pagesOf } from "../workbook/cells.ts";
import {
  overwrittenFormulas,
  siteFaults,
  siteless,
  usesMissing,
  valueFaults,
} from "./cell-faults.ts";
import { withComments } from "./comments.ts";
import type { CountSheet } from "./count-sheets.ts";
import { countSheets } from "./counts-found.ts";
import { allCounts, readCounts } from "./counts.ts";
import { firstOfKey, type Fleet, readFleet, rowCounts, withDoubts } from "./devices.ts";
import { sameDevices } from "./same-device.ts";
import { countGaps, headingLookup } from "./gaps.ts";
import { type JobPlace, jobProblems } from "./job-problems.ts";
import { legendNotices } from "./legends.ts";
import { unreadMonths } from "./month-headings.ts";
import { markedCounts } from "./out-of-line.ts";
import { ownLogs } from "./own-log.ts";
import { doubtedRetirements } from "./in-use.ts";
import { readLastDone } from "./last-done.ts";
import { movingDates } from "./moving-dates.ts";
import { ownLimitFaults } from "./own-limit-faults.ts";
import { withPositions } from "../records/positions.ts";
import { guardPatients } from "../privacy/privacy.ts";
import { oneForACell } from "../records/problems.ts";
import type { Count, Job, Ours, Problem, Reading } from "../records/records.ts";
import { findRegisters, type Found } from "./register.ts";
import { headingColumn } from "../sheets/layout.ts";
import { isOurSheet } from "../sheets/our-sheets.ts";
import { showsResults } from "../sheets/reports.ts";
import { shelfProblems } from "./shelf-problems.ts";
import { spelledShelf, spellingNotices } from "./site-spellings.ts";
import { readRemarks } from "./remarks.ts";
import { sheetStatus, statusNotices } from "./status-words.ts";
import { struckDevices } from "./struck-rows.ts";
import { movesIn } from "../workbook/moving.ts";
import { sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
import { summaryFaults } from "./summaries.ts";
import { unreadDevices } from "./unread-devices.ts";
import { unseenNotices } from "./unseen.ts";

/**
 * Reads a workbook into records and everything that cannot be trusted. Pure: the snapshot is only read.
 *
 * Throws a BookError when no equipment register can be found, a PatientDataError when a column looks
 * like data about patients; nothing else.
 */
export function readBook(snapshot: Snapshot, ours: Ours): Reading {
  return finished(bookSteps(snapshot, ours));
}

/** The same in steps. */
export function* bookSteps(snapshot: Snapshot, written: Ours): Steps<Reading> {
  // Sheets of ours are read elsewhere: never the register, never counts, not searched for patients.
  const theirs = pagesOf(snapshot).filter(({ sheet }) => !isOurSheet(sheet));
  for (const page of theirs) {
    guardPatients(page);
    yield;
  }
  const pages = theirs.filter(({ sheet }) => !showsResults(sheet));
  const founds = findRegisters(pages, written);
  const programme = positioned(written, founds);
  yield;
  const fleets = fleetsOf(founds, programme);
  yield;
  const byKey = firstOfKey(fleets.flatMap(({ named }) => named));
  const isDevice = (key: string): boolean => byKey.has(key);
  const sheets = countSheets(pages, founds, { isDevice, ours: programme });
  yield;
  const others = withoutRead(pages, [...founds, ...sheets.found]);
  const own = ownLogs(others, { ours: programme, isDevice, isMoving: movesIn(snapshot) });
  const ours = withJobs(programme, own.jobs);
  const jobs = [...jobProblems(programme, isDevice, jobPlace(snapshot)), ...own.problems];
  yield;
  const ended = monthStart(ours.settings.reportDate);
  const counted = markedCounts(readCounts(sheets.found, byKey, ours.settings.reportDate), ended);
  yield;
  const among: Among = {
    ...{ snapshot, ours, countsOf: (key) => counted.byDevice.get(key) ?? [] },
    ...{ rows: rowCounts(fleets), isOneOfMany: founds.length > 1 },
    isCounted: sheets.found.length > 0,
  };
  const read = founds.map((found, at) => readRegister(found, fleets[at], among));
  yield;
  const devices = read.flatMap((one) => one.devices);
  const registers = founds.map(({ register }) => register);
  const inDoubt = firstOfKey(read.flatMap(({ fleet }) => fleet.named));
  const gaps = countGaps({ devices: inDoubt, counted, headingOf: headingsOf(sheets.found), ended });
  yield;
  const spelled = spelledShelf(ours, new Map(fleets.flatMap((fleet) => [...fleet.spellings])));
  const problems = oneForACell([
    ...founds.flatMap((found) => found.problems),
    ...unreadDevices(untold(others, own.logs, [...founds, sheets, own]), founds, isDevice),
    ...unseen(founds, sheets.found),
    ...fleets.flatMap((fleet) => fleet.problems),
    ...sameDevices(fleets),
    ...read.flatMap((one) => one.problems),
    ...sheets.problems,
    ...unreadMonths(pages, { sheets: sheets.found, registers, isDevice }),
    ...counted.problems,
    ...gaps,
    ...jobs,
    ...shelfProblems(snapshot, spelled, devices),
  ]);
  return {
    ours: spelled,
    registers,
    devices,
    counts: allCounts(counted),
    ownLogs: own.logs,
    problems,
  };
}

/** The programme with the positions of its parts that the registers have dates of. */
function positioned(ours: Ours, founds: readonly Found[]): Ours {
  const registers = founds.map(({ register }) => register);
  const parts = withPositions(ours.parts, registers, ours.settings);
  return parts === ours.parts ? ours : { ...ours, parts };
}

/** The headings of counts, for the places of problems. */
function headingsOf(found: readonly CountSheet[]): ReturnType<typeof headingLookup> {
  return headingLookup(new Map(found.map((one) => [one.page.sheet.name, one.heading.texts])));
}

/** The jobs of the programme's own logs before those of our Job log, whose row of a day goes before theirs. */
function withJobs(ours: Ours, jobs: readonly Job[]): Ours {
  return jobs.length === 0 ? ours : { ...ours, jobs: [...jobs, ...ours.jobs] };
}

function withoutRead(pages: readonly Page[], read: readonly { readonly page: Page }[]): Page[] {
  return pages.filter((page) => !read.some((one) => one.page === page));
}

/** Sheets of which nothing is read, and nothing told. */
function untold(
  pages: readonly Page[],
  logs: Reading["ownLogs"],
  told: readonly Pick<Reading, "problems">[],
): Page[] {
  const names = new Set(
    [...told.flatMap(({ problems }) => problems), ...logs].map((one) => one.sheet),
  );
  return pages.filter(({ sheet }) => !names.has(sheet.name));
}

/** The devices of each register; a site spelled on one sheet is spelled so on the next. */
function fleetsOf(founds: readonly Found[], ours: Ours): Fleet[] {
  let spellings: ReadonlyMap<string, string> = new Map();
  return founds.map((found) => {
    const fleet = readFleet(found, ours, spellings);
    ({ spellings } = fleet);
    return fleet;
  });
}

interface Among {
  readonly snapshot: Snapshot;
  readonly ours: Ours;
  readonly countsOf: (key: string) => readonly Count[];
  readonly rows: ReadonlyMap<string, number>;
  readonly isOneOfMany: boolean;
  /** Counts stand on sheets of their own. */
  readonly isCounted: boolean;
}

/** The devices of a register with their dates, and what is wrong in its rows. */
function readRegister(
  found: Found,
  written: Fleet | undefined,
  { snapshot, ours, countsOf, rows, isOneOfMany, isCounted }: Among,
) {
  if (written === undefined) throw new Error(`no devices of ${found.register.sheet}`);
  const retirements = doubtedRetirements({ found, fleet: written, ours, countsOf });
  const remarks = readRemarks(found, written.named, ours.parts);
  const said = { remarks: remarks.rows, parts: remarks.parts };
  const doubted = { retirements: retirements.byRow, rows, ...said };
  const fleet = withDoubts(written, doubted);
  const { devices, problems } = readLastDone({ found, ours, fleet });
  return {
    fleet,
    devices,
    problems: [
      ...withComments(found, fleet.named, [
        ...movingDates(snapshot, found, fleet.named),
        ...problems,
        ...ownLimitFaults(found, ours, devices),
      ]),
      ...valueFaults(found, fleet.named),
      ...(isCounted ? [] : usesMissing(found, fleet.named)),
      ...siteFaults(found, fleet.named, ours),
      ...siteless(found, fleet.named),
      ...struckDevices(found, fleet.named),
      ...spellingNotices(found, fleet.named),
      ...retirements.problems,
      ...overwrittenFormulas(found),
      ...summaryFaults(found),
      ...legendNotices(found),
      ...remarks.problems,
      ...statusNotices(found, fleet.named, remarks.problems),
      ...(isOneOfMany ? sheetStatus(found, fleet.named) : []),
    ],
  };
}

/** Where a job's entry stands, looked up once a sheet and heading. */
function jobPlace(snapshot: Snapshot): JobPlace {
  const columns = new Map<string, number | null>();
  return ({ sheet, row }, heading) => {
    const key = `${heading}:${sheet}`;
    let column = columns.get(key);
    if (column === undefined) {
      const found = sheetNamed(snapshot, sheet);
      column = found === null ? null : headingColumn(found, heading);
      columns.set(key, column);
    }
    return { sheet, row, column, heading: column === null ? "" : heading };
  };
}

function unseen(founds: readonly Found[], sheets: readonly CountSheet[]): Problem[] {
  const registers = new Set(founds.map(({ page }) => page));
  return [
    ...founds.flatMap(({ page, heading }) =>
      unseenNotices(page.sheet, heading, page.sheet.values.length - 1),
    ),
    ...sheets
      .filter((sheet) => !registers.has(sheet.page))
      .flatMap((sheet) => unseenNotices(sheet.page.sheet, sheet.heading, sheet.lastRow)),
  ];
}
