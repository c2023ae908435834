import { monthStart } from "../../core/day.ts";
import { keyOf, type Page, pagesOf } from "../workbook/cells.ts";
import { overwrittenFormulas, siteFaults, siteless, valueFaults } from "./cell-faults.ts";
import { type CountSheet, countsBeside, countSheetIn } from "./count-sheets.ts";
import { allCounts, readCounts } from "./counts.ts";
import { type Fleet, readFleet, withDoubts } from "./devices.ts";
import { countGaps, headingLookup } from "./gaps.ts";
import { type JobPlace, jobProblems } from "./job-problems.ts";
import { markedCounts } from "./out-of-line.ts";
import { doubtedRetirements } from "./in-use.ts";
import { readLastDone } from "./last-done.ts";
import { guardPatients } from "../privacy/privacy.ts";
import { fault, oneForACell, wholeSheet } from "../records/problems.ts";
import type { Count, Ours, Problem, Reading } from "../records/records.ts";
import { findRegister, type Found } from "./register.ts";
import { headingColumn } from "../sheets/layout.ts";
import { OUR_SHEETS } from "../sheets/our-sheets.ts";
import { READ_FIRST, READ_ME } from "../sheets/read-me.ts";
import { showsResults } from "../sheets/reports.ts";
import { shelfProblems } from "./shelf-problems.ts";
import { spelledShelf, spellingNotices } from "./site-spellings.ts";
import { statusNotices } from "./status-words.ts";
import { sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
import { unseenNotices } from "./unseen.ts";

/**
 * Sheets of ours that are read elsewhere, also with the number they get where the user has a sheet so
 * named: never the register, never counts, not searched for patients.
 */
const OUR_NAMES = [READ_ME, READ_FIRST, ...OUR_SHEETS.map(({ name }) => name)];
const IS_OURS = new RegExp(`^(?:${OUR_NAMES.join("|")})(?: \\(\\d+\\))?$`, "i");

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
export function* bookSteps(snapshot: Snapshot, ours: Ours): Steps<Reading> {
  const theirs = pagesOf(snapshot).filter(({ sheet }) => !IS_OURS.test(sheet.name.trim()));
  for (const page of theirs) {
    guardPatients(page);
    yield;
  }
  const pages = theirs.filter(({ sheet }) => !showsResults(sheet));
  const found = findRegister(pages, ours);
  yield;
  const written = readFleet(found, ours);
  yield;
  const jobs = jobProblems(ours, (key) => written.byKey.has(key), jobPlace(snapshot));
  const sheets = countSheets(pages, found, { fleet: written, ours });
  yield;
  const { reportDate } = ours.settings;
  const ended = monthStart(reportDate);
  const counted = markedCounts(readCounts(sheets.found, written.byKey, reportDate), ended);
  yield;
  const countsOf = (key: string): readonly Count[] => counted.byDevice.get(key) ?? [];
  const retirements = doubtedRetirements({ found, fleet: written, ours, countsOf });
  const fleet = withDoubts(written, retirements.byRow);
  const { devices, problems: dateProblems } = readLastDone({ found, ours, fleet });
  yield;
  const headings = new Map(
    sheets.found.map(({ page, heading }) => [page.sheet.name, heading.texts]),
  );
  const headingOf = headingLookup(headings);
  const gaps = countGaps({ fleet, counted, register: found.page.sheet, headingOf, ended });
  yield;
  const spelled = spelledShelf(ours, fleet.spellings);
  const problems = oneForACell([
    ...found.problems,
    ...unseen(found, sheets.found),
    ...fleet.problems,
    ...dateProblems,
    ...valueFaults(found, fleet.named),
    ...siteFaults(found, fleet.named, ours),
    ...siteless(found, fleet.named),
    ...spellingNotices(found, fleet.named),
    ...retirements.problems,
    ...overwrittenFormulas(found),
    ...statusNotices(found, fleet.named),
    ...sheets.problems,
    ...counted.problems,
    ...gaps,
    ...jobs,
    ...shelfProblems(snapshot, spelled, devices),
  ]);
  return {
    ours: spelled,
    register: found.register,
    devices,
    counts: allCounts(counted),
    problems,
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

interface Beside {
  readonly fleet: Fleet;
  readonly ours: Ours;
}

/** The sheets of counts: the one that was chosen, else every sheet that is one, else the register itself. */
function countSheets(
  pages: readonly Page[],
  found: Found,
  { fleet, ours }: Beside,
): { readonly found: readonly CountSheet[]; readonly problems: readonly Problem[] } {
  const isDevice = (key: string): boolean => fleet.byKey.has(key);
  const said = keyOf(ours.settings.matches.get("counts") ?? "");
  if (said === "none") return { found: [], problems: [] };
  const inRegister = countsBeside({
    page: found.page,
    heading: found.heading,
    lastRow: found.page.sheet.values.length - 1,
    device: found.columns.get("device") ?? 0,
  });
  const own = inRegister === null ? [] : [inRegister];
  if (said === "") {
    const others = pages.filter((page) => page !== found.page);
    const sheets = others.flatMap((page) => countSheetIn(page, isDevice, false) ?? []);
    return { found: sheets.length > 0 ? sheets : own, problems: [] };
  }
  const page = pages.find(({ sheet }) => keyOf(sheet.name) === said);
  if (page === found.page) return { found: own, problems: own.length > 0 ? [] : [noCounts(said)] };
  const sheet = page === undefined ? null : countSheetIn(page, isDevice, true);
  return sheet === null
    ? { found: [], problems: [noCounts(said)] }
    : { found: [sheet], problems: [] };
}

function noCounts(name: string): Problem {
  return fault(
    "counts not found",
    wholeSheet(name),
    `The counts were set to the sheet ${name}, but no counts can be read there.`,
    'Correct the sheet name in Setup; "none" means that there are no counts.',
  );
}

function unseen(found: Found, sheets: readonly CountSheet[]): Problem[] {
  const { page, heading } = found;
  const lastRow = page.sheet.values.length - 1;
  return [
    ...unseenNotices(page.sheet, heading, lastRow),
    ...sheets
      .filter((sheet) => sheet.page !== page)
      .flatMap((sheet) => unseenNotices(sheet.page.sheet, sheet.heading, sheet.lastRow)),
  ];
}
