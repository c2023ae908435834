import { monthStart } from "../../core/day.ts";
import type { FindsWayOut } from "../headings/no-register.ts";
import { wordsIn } from "../languages/words-of.ts";
import { guardPatients } from "../privacy/privacy.ts";
import { OWN_LOG } from "../records/own-log.ts";
import { withPositions } from "../records/positions.ts";
import { oneForACell } from "../records/problems.ts";
import type { Count, Job, Ours, Problem, Reading } from "../records/records.ts";
import { isOurSheet } from "../sheets/our-sheets.ts";
import { showsResults } from "../sheets/reports.ts";
import { type Page, pagesOf } from "../workbook/cells.ts";
import { movesIn } from "../workbook/moving.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import type { Steps } from "../workbook/steps.ts";
import type { CountDoubts } from "./counts/count-doubts.ts";
import type { withComments } from "./remarks/comments.ts";
import { copiedDates } from "./misplaced/copied-dates.ts";
import { countSheets, partsAmong } from "./counts/counts-found.ts";
import { allCounts, type Counted, readCounts } from "./counts/counts.ts";
import { firstOfKey, type Fleet, readFleet, repeatedKeys, withDoubts } from "./devices/devices.ts";
import { doubtedRetirements } from "./devices/in-use.ts";
import { readLastDone } from "./jobs/last-done.ts";
import { misplacedDates } from "./misplaced/misplaced-dates.ts";
import { movingDates } from "./misplaced/moving-dates.ts";
import { markedCounts } from "./counts/out-of-line.ts";
import { ownLimitFaults } from "./limits/own-limit-faults.ts";
import type { OwnLogs, ReadsLogs } from "./own-log/own-log.ts";
import { findRegisters, type Found, type Search } from "./register/register.ts";
import { hasOurColumns } from "./our-sheets/our-columns.ts";
import type { readRemarks } from "./remarks/remarks.ts";
import { hasWordsBeside } from "./remarks/words-beside.ts";

/** What was found in a register, for its devices and for what is told of its rows. */
export interface ReadRegister {
  readonly found: Found;
  readonly fleet: Fleet;
  readonly devices: Reading["devices"];
  readonly remarks: ReturnType<typeof readRemarks>;
  readonly retirements: ReturnType<typeof doubtedRetirements>;
  /** What is wrong with the dates and limits of the parts: an answer comes of it. */
  readonly problems: readonly Problem[];
}

/** A book whose records are read; of what cannot be trusted only that which touches an answer is told yet. */
export interface Begun {
  readonly snapshot: Snapshot;
  readonly reading: Reading;
  /** The programme before the jobs of its own logs came to it. */
  readonly programme: Ours;
  readonly pages: readonly Page[];
  readonly fleets: readonly Fleet[];
  readonly registers: readonly ReadRegister[];
  readonly sheets: ReturnType<typeof countSheets>;
  readonly counted: Counted;
  readonly isDevice: (key: string) => boolean;
  /** Keys of devices that stand in several rows. */
  readonly repeated: ReadonlySet<string>;
  /** Sheets of which nothing is read, and nothing told so far. */
  readonly seen: readonly Page[];
  /** Sheets that are like a register, read or not. */
  readonly search: Search;
  readonly own: OwnLogs;
}

/** What a reading asks, where it has need of it; who shows a first list soon fetches it then. */
export interface Asked {
  readonly wayOut?: FindsWayOut | undefined;
  readonly ownLogs: ReadsLogs;
  readonly countDoubts: () => CountDoubts;
  /** Finds for jobs of devices that are not in the registers what they say of those that are. */
  readonly nearDevices: (
    jobs: readonly Job[],
    devices: ReadonlyMap<string, unknown>,
  ) => readonly Job[];
  readonly ear: () => Ear;
}

/** Hears what people wrote beside devices and dates. */
interface Ear {
  readonly readRemarks: typeof readRemarks;
  readonly withComments: typeof withComments;
}

/** Where nothing is written there is nothing to hear. */
const DEAF: Ear = {
  readRemarks: () => ({ rows: new Set(), parts: new Map(), problems: [] }),
  withComments: (_found, _named, problems) => [...problems],
};

const NO_LOGS: OwnLogs = { read: [], jobs: [], missing: null, none: false };

/** Whether logs of the programme's own may be on these sheets, or were said to be. */
function logsAmong(others: readonly Page[], { settings }: Ours): boolean {
  return others.length > 0 || settings.matches.has(OWN_LOG);
}

/**
 * Reads a workbook into records, in steps. Pure: the snapshot is only read.
 *
 * Throws a BookError when no equipment register can be found, with a way out where one finds it, a PatientDataError
 * when a column looks like data about patients; nothing else.
 */
export function* beginBook(snapshot: Snapshot, written: Ours, asked: Asked): Steps<Begun> {
  const pages = yield* guardedPages(snapshot);
  const { founds, search } = yield* findRegisters(pages, written, asked.wayOut);
  const programme = positioned(written, founds);
  yield;
  const fleets = fleetsOf(founds, programme);
  yield;
  const byKey = firstOfKey(fleets.flatMap(({ named }) => named));
  const repeated = repeatedKeys(fleets, byKey);
  const isDevice = (key: string): boolean => byKey.has(key);
  const sheets = countSheets(pages, founds, {
    isDevice,
    isSite: siteWords(fleets),
    ours: programme,
  });
  yield;
  const others = withoutRead(pages, [...founds, ...sheets.found]);
  const own = logsOf(others, asked, { ours: programme, isDevice, isMoving: movesIn(snapshot) });
  const ours = withJobs(placed(programme, asked, byKey), own.jobs);
  yield;
  const { reportDate } = ours.settings;
  const read = readCounts(sheets.found, byKey, reportDate, {
    asked: asked.countDoubts,
    founds,
    doubting: partsAmong(sheets.others),
  });
  const counted = markedCounts(read, monthStart(reportDate));
  yield;
  const among: Among = {
    ...{ snapshot, ours, repeated, search, asked },
    countsOf: (key) => counted.byDevice.get(key) ?? [],
  };
  const registers: ReadRegister[] = [];
  for (const [at, found] of founds.entries()) {
    registers.push(yield* readRegister(found, fleets[at], among));
    yield;
  }

  const passed = [
    ...sheets.others.map(({ sheet }) => sheet.page.sheet.name),
    ...sheets.notes.map(([, name]) => name),
  ];
  const seen = untold(others, own, [...passed, ...founds.flatMap(sheetsTold)]);
  const atOnce = [
    ...founds.flatMap((found) => found.problems),
    // What puts a date in doubt: no list may be calmer before the rest is told.
    ...registers.flatMap(({ problems }) => problems),
  ];
  const reading = {
    ours,
    registers: founds.map(({ register }) => register),
    devices: registers.flatMap((one) => one.devices),
    counts: allCounts(counted),
    ownLogs: own.read.map(({ log }) => log),
    problems: oneForACell(atOnce),
  };
  return {
    ...{ snapshot, reading, programme, pages, fleets, registers, sheets, counted },
    ...{ isDevice, repeated, seen, search, own },
  };
}

/** The sheets that are not ours, without those of results. None of them may list patients. */
function* guardedPages(snapshot: Snapshot): Steps<Page[]> {
  // Sheets of ours are read elsewhere: never the register, never counts, not searched for patients.
  const theirs = pagesOf(snapshot).filter(({ sheet }) => !isOurSheet(sheet));
  for (const page of theirs) {
    guardPatients(page);
    yield;
  }
  return theirs.filter(({ sheet }) => !showsResults(sheet));
}

/** The programme with the positions of its parts that the registers have dates of. */
function positioned(ours: Ours, founds: readonly Found[]): Ours {
  const registers = founds.map(({ register }) => register);
  const parts = withPositions(ours.parts, registers, ours.settings);
  return parts === ours.parts ? ours : { ...ours, parts };
}

/** The programme with what jobs of devices that are not in the registers say of those that are. */
function placed(ours: Ours, asked: Asked, devices: ReadonlyMap<string, unknown>): Ours {
  if (ours.jobs.length === 0) return ours;
  const jobs = asked.nearDevices(ours.jobs, devices);
  return jobs === ours.jobs ? ours : { ...ours, jobs };
}

/** The jobs of the programme's own logs before those of our Job log, whose row of a day goes before theirs. */
function withJobs(ours: Ours, jobs: readonly Job[]): Ours {
  return jobs.length === 0 ? ours : { ...ours, jobs: [...jobs, ...ours.jobs] };
}

/** The logs among some sheets; a copy of a register with our columns is none. */
function logsOf(pages: readonly Page[], asked: Asked, beside: Parameters<ReadsLogs>[1]): OwnLogs {
  const { ours } = beside;
  if (!logsAmong(pages, ours)) return NO_LOGS;
  return asked.ownLogs(
    pages.filter((page) => !hasOurColumns(page, ours.parts)),
    beside,
  );
}

function withoutRead(pages: readonly Page[], read: readonly { readonly page: Page }[]): Page[] {
  return pages.filter((page) => !read.some((one) => one.page === page));
}

/** Sheets of which nothing is read, and nothing told. */
function untold(
  pages: readonly Page[],
  { read, missing }: OwnLogs,
  told: readonly string[],
): Page[] {
  const names = new Set([...told, ...read.map(({ log }) => log.sheet), missing]);
  return pages.filter(({ sheet }) => !names.has(sheet.name));
}

function sheetsTold({ problems }: Found): string[] {
  return problems.map(({ sheet }) => sheet);
}

/** Whether a word stands in the name of a site. */
function siteWords(fleets: readonly Fleet[]): (word: string) => boolean {
  const sites = new Set(fleets.flatMap(({ named }) => named.map(({ site }) => site)));
  const words = new Set([...sites].flatMap(wordsIn));
  return (word) => words.has(word);
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
  readonly search: Search;
  readonly countsOf: (key: string) => readonly Count[];
  readonly repeated: ReadonlySet<string>;
  readonly asked: Asked;
}

/** The devices of a register with their dates. */
function* readRegister(
  found: Found,
  written: Fleet | undefined,
  { snapshot, ours, search, countsOf, repeated, asked }: Among,
): Steps<ReadRegister> {
  if (written === undefined) throw new Error(`no devices of ${found.register.sheet}`);
  const retirements = doubtedRetirements({ found, fleet: written, ours, countsOf });
  yield;
  const ear = hasWordsBeside(found) ? asked.ear() : DEAF;
  const remarks = ear.readRemarks(found, written.named, ours.parts);
  yield;
  const said = { remarks: remarks.rows, parts: remarks.parts };
  const doubted = { retirements: retirements.byRow, repeated, ...said };
  const fleet = withDoubts(written, doubted);
  yield;
  const { devices, problems } = yield* readLastDone({ found, ours, fleet });
  yield;
  const doubts = ear.withComments(found, fleet.named, [
    ...movingDates(snapshot, found, fleet.named),
    ...misplacedDates(found, fleet.named, ours),
    ...problems,
    ...ownLimitFaults(found, ours, devices),
    ...copiedDates(found, fleet.named, search, ours.settings.reportDate),
  ]);
  return { found, fleet, devices, remarks, retirements, problems: doubts };
}
