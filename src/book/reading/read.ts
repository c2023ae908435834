import { type Day, monthStart } from "../../core/day.ts";
import { oneForACell } from "../records/problems.ts";
import type { Ours, Problem, Reading } from "../records/records.ts";
import { remembering } from "../records/remembering.ts";
import { wayOut } from "../headings/no-register.ts";
import { headingColumn } from "../sheets/layout.ts";
import type { Page } from "../workbook/cells.ts";
import { sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { eachOf, finished, type Steps } from "../workbook/steps.ts";
import { type Asked, type Begun, beginBook } from "./begin.ts";
import { withComments } from "./remarks/comments.ts";
import { countDoubts } from "./counts/count-doubts.ts";
import { toldOf } from "./counts/count-faults.ts";
import type { CountSheet } from "./counts/count-sheets.ts";
import { countsInDoubt } from "./counts/counts-in-doubt.ts";
import { firstOfKey } from "./devices/devices.ts";
import { countGaps, headingLookup } from "./counts/gaps.ts";
import { worded } from "./told/date-words.ts";
import { identifierFaults } from "./devices/identifier-faults.ts";
import { type JobPlace, jobProblems } from "./job-problems.ts";
import { unreadMonths } from "./counts/month-headings.ts";
import { monthNotices } from "./counts/month-notices.ts";
import { limitsElsewhere } from "./limits/limits-elsewhere.ts";
import { withNearDevices } from "./jobs/near-devices.ts";
import { ownLogs } from "./own-log/own-log.ts";
import { toldOfLogs } from "./own-log/own-log-told.ts";
import { passedCounts, toldOfBeside, toldOfOthers, toldOfParts } from "./counts/passed-counts.ts";
import { hasOurColumns } from "./our-sheets/our-columns.ts";
import { sourcesOf } from "./register/sources-of.ts";
import { passedRegisters } from "./passed-registers.ts";
import { sameDevices } from "./devices/same-device.ts";
import type { Found } from "./register/register.ts";
import { nameable } from "./devices/devices-in-text.ts";
import { readRemarks } from "./remarks/remarks.ts";
import { shelfProblems } from "./our-sheets/shelf-problems.ts";
import { stockBeside } from "./unread/stock-beside.ts";
import { shapesTold } from "./remarks/shapes.ts";
import { sheetsBeside } from "./remarks/sheets-beside.ts";
import { sitesAlike } from "./devices/sites-alike.ts";
import { spelledShelf } from "./devices/site-spellings.ts";
import { longTallies } from "./counts/tallies.ts";
import { unheadedDevices, unreadDevices } from "./unread/unread-devices.ts";
import { uncalculated, unreadCounts } from "./counts/unread-counts.ts";
import { ofColumns, ofRegister, type Tell } from "./told-of-register.ts";
import { unseenNotices } from "./unread/unseen.ts";

/** Whatever a reading asks for is there. */
export const ASKED: Asked = {
  wayOut,
  ownLogs,
  countDoubts: () => countDoubts,
  nearDevices: withNearDevices,
  ear: () => ({ readRemarks, withComments }),
};

/**
 * Reads a workbook into records and everything that cannot be trusted. Pure: the snapshot is only read.
 *
 * Throws a BookError when no equipment register can be found, a PatientDataError when a column looks
 * like data about patients; nothing else.
 */
export function readBook(snapshot: Snapshot, ours: Ours): Reading {
  return finished(bookSteps(snapshot, ours));
}

function* bookSteps(snapshot: Snapshot, ours: Ours): Steps<Reading> {
  return yield* withAllTold(yield* beginBook(snapshot, ours, ASKED));
}

/**
 * A reading with everything that is told of its workbook, in steps. No record and no figure comes of it, so
 * a screen can show its first list before.
 */
export function* withAllTold(begun: Begun): Steps<Reading> {
  const { snapshot, registers, sheets, fleets, counted, isDevice } = begun;
  const spellings = new Map(fleets.flatMap((fleet) => [...fleet.spellings]));
  const reading = { ...begun.reading, ours: spelledShelf(begun.reading.ours, spellings) };
  const { programme, pages } = begun;
  const founds = registers.map(({ found }) => found);
  const { parts, settings } = programme;
  const { reportDate } = settings;
  const nameableOf = remembering(nameable);
  const devices = (): ReturnType<typeof nameable> => nameableOf(fleets);
  const ofRegisters: Tell[] = registers.flatMap((one) => ofRegister(one, begun, devices));
  const inDoubt = (): ReturnType<typeof firstOfKey> =>
    firstOfKey(registers.flatMap(({ fleet }) => fleet.named));
  const commissionedOf = (key: string): Day | null => inDoubt().get(key)?.commissioned ?? null;
  const ended = monthStart(reportDate);
  // A copy of a register with our columns is told as such; what stands in them is no limit of anybody's.
  const isCopy = (page: Page): boolean =>
    founds.every((found) => found.page !== page) && hasOurColumns(page, parts);
  const headingOf = headingsOf(sheets.found);
  const sources = sourcesOf(begun.seen, founds, reading.devices, parts);
  const read = sheetsRead(begun, sources);
  const passed = [
    ...passedRegisters(begun.search, registers, parts).filter(({ sheet }) => !read.has(sheet)),
    ...passedCounts(
      sheets.unlike.filter((page) => !isCopy(page)),
      isDevice,
    ),
    ...(sheets.found.length > 0 ? longTallies(begun.seen, isDevice) : []),
  ];
  const unread = unreadCounts(withoutCounts(begun, passed), isDevice, isTaken(founds));
  const problems = yield* eachOf<Tell, readonly Problem[]>(
    [
      () => registers.flatMap((one) => ofColumns(one, programme)),
      () =>
        besideRegisters(
          { ...begun, reading },
          { passed: [...passed, ...unread], sources, devices },
        ),
      () => unseen(founds, sheets.found),
      () => registers.flatMap(({ found, fleet }) => identifierFaults(found, fleet)),
      () => [...sameDevices(fleets, begun.repeated), ...sitesAlike(fleets)],
      () =>
        limitsElsewhere(
          pages.filter((page) => !isCounted(sheets.found, page) && !isCopy(page)),
          founds,
          parts,
        ),
      () => shapesTold(pages, { devices, parts }),
      ...ofRegisters,
      () => [...passed, ...unread],
      ...ofCounts(begun),
      () => countGaps({ devices: inDoubt, counted, headingOf, ended }),
      () => jobProblems(programme, reading.devices, jobPlace(snapshot)),
      () => toldOfLogs(begun.own, { ours: programme, isDevice, commissionedOf }),
      () => shelfProblems(snapshot, reading.ours, reading.devices),
    ],
    (tell) => tell(),
  );
  return { ...reading, problems: oneForACell(problems.flat().map(worded)) };
}

/** Names of sheets that are read, though not as a register: own logs, and what a register was made of. */
function sheetsRead({ own }: Begun, sources: ReadonlyMap<Page, Page>): ReadonlySet<string> {
  const made = [...sources.keys()].map(({ sheet }) => sheet.name);
  return new Set([...own.read.map(({ log }) => log.sheet), ...made]);
}

/** What is told of sheets of counts. */
function ofCounts({ sheets, pages, reading, isDevice, counted }: Begun): Tell[] {
  const { found, notes, others } = sheets;
  return [
    () => notes.map(toldOf),
    () => [...toldOfOthers(others), ...toldOfBeside(found), ...toldOfParts(found)],
    () => unreadMonths(pages, { ...reading, sheets: found, isDevice }),
    () => found.flatMap((one) => (one.shape === "wide" ? monthNotices(one.page, one.months) : [])),
    () => [
      ...counted.notes.map(toldOf),
      ...countsInDoubt(counted.met),
      ...uncalculated(counted.notes),
    ],
  ];
}

/** Sheets from which no counts are read, and of which nothing is told; a register among them where none are. */
function withoutCounts({ seen, registers, sheets }: Begun, told: readonly Problem[]): Page[] {
  const own = sheets.found.length > 0 ? [] : registers.map(({ found }) => found.page);
  return [...unseenOf(seen, told), ...own];
}

/** Whether a column of a register holds something else than counts. */
function isTaken(founds: readonly Found[]): (page: Page, column: number) => boolean {
  return (page, column) =>
    founds.some(
      (found) =>
        found.page === page && found.register.matches.some((match) => match.column === column),
    );
}

function isCounted(sheets: readonly CountSheet[], page: Page): boolean {
  return sheets.some((one) => one.page === page);
}

/** Devices beside the registers, and what sheets that are not read say of those on them. */
function besideRegisters(
  { seen, registers, isDevice, programme, reading }: Begun,
  {
    passed,
    sources,
    devices,
  }: {
    readonly passed: readonly Problem[];
    readonly sources: ReadonlyMap<Page, Page>;
    readonly devices: () => ReturnType<typeof nameable>;
  },
): readonly Problem[] {
  const founds = registers.map(({ found }) => found);
  const strange = unseenOf(seen, passed).filter((page) => !sources.has(page));
  const told = unreadDevices(strange, founds, isDevice);
  const rest = unseenOf(strange, told);
  const beside = sheetsBeside([...rest, ...sources.values()], devices(), {
    parts: programme.parts,
    read: reading.devices,
  });
  return [
    ...told,
    ...beside,
    ...stockBeside(unseenOf(rest, beside), reading.ours),
    ...unheadedDevices(founds, isDevice),
  ];
}

/** Sheets that nothing is told of yet. */
function unseenOf(pages: readonly Page[], told: readonly Problem[]): Page[] {
  return pages.filter(({ sheet }) => told.every((one) => one.sheet !== sheet.name));
}

/** The headings of counts, for the places of problems. */
function headingsOf(found: readonly CountSheet[]): ReturnType<typeof headingLookup> {
  return headingLookup(new Map(found.map((one) => [one.page.sheet.name, one.heading.texts])));
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
