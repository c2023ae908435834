import type { Day } from "../../core/day.ts";
import { fault, notice, oneForACell, wholeSheet } from "../records/problems.ts";
import type { Problem, Reading, Register } from "../records/records.ts";
import type { Overrides } from "../sheets/ours.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";
import { besideOurs } from "./our-sheets/beside-ours.ts";
import { type AskedOfWorkbook, type BegunWorkbook, beginWorkbook } from "./begin-workbook.ts";
import { countsUses } from "./counts/count-units.ts";
import { worded } from "./told/date-words.ts";
import { goneSheets } from "./our-sheets/gone-sheets.ts";
import { type Undated, undatedParts } from "./unread/missing-columns.ts";
import { withJobNotes } from "./jobs/job-notes.ts";
import { partSheets } from "./register/part-sheets.ts";
import { priceOffers } from "./unread/price-list.ts";
import { ASKED, withAllTold } from "./read.ts";
import { withShelf } from "./our-sheets/shelf-notes.ts";
import { strangeParts } from "./unread/strange-parts.ts";
import { unknownSettings } from "./our-sheets/unknown-settings.ts";

/** The same of a whole workbook. */
export const EVERYTHING: AskedOfWorkbook = { ...ASKED, jobNotes: withJobNotes };

/** A whole workbook read, our own sheets first; the way every command and the pane begins. */
export function readWorkbook(snapshot: Snapshot, today: Day, overrides: Overrides = {}): Reading {
  return finished(readingSteps(snapshot, today, overrides));
}

function* readingSteps(snapshot: Snapshot, today: Day, overrides: Overrides): Steps<Reading> {
  return yield* allTold(yield* beginWorkbook(snapshot, today, overrides, EVERYTHING));
}

/** The reading of a workbook with everything that cannot be trusted, in steps. */
export function* allTold(begun: BegunWorkbook): Steps<Reading> {
  const { snapshot, oursProblems, wholeProblems, ofBabies } = begun;
  const { ours, problems: shelfTold } = withShelf(snapshot, begun.reading.ours);
  const reading = yield* withAllTold({ ...begun, reading: { ...begun.reading, ours } });
  const undated = undatedParts(snapshot, reading, partSheets(begun.search, reading.ours.parts));
  yield;
  return {
    ...reading,
    problems: oneForACell([
      ...oursProblems,
      ...shelfTold,
      ...undated.map(({ problem }) => problem),
      ...strangeParts(snapshot, reading),
      ...goneSheets(snapshot),
      ...besideOurs(snapshot, reading.ours.parts),
      ...unknownSettings(snapshot),
      ...babyUses(reading),
      ...ofBabies.map((sheet) => takenAsBabies(sheet, reading)),
      ...wholeProblems,
      ...priceOffers(snapshot, reading),
      ...reading.problems.filter((problem) => !undated.some((one) => isToldBy(one, problem))),
    ]).map(worded),
  };
}

function takenAsBabies(sheet: string, { ours }: Reading): Problem {
  return notice(
    "counts are babies",
    wholeSheet(sheet),
    `The sheet mentions babies, so its counts are taken as babies, each with ${ours.settings.rescreenFactor} sessions.`,
    "State in Setup, under Counts are, whether they are babies or sessions.",
  );
}

function babyUses(reading: Reading): Problem[] {
  return reading.registers.flatMap(babyUsesIn);
}

function babyUsesIn(register: Register): Problem[] {
  const uses = register.matches.find(({ field }) => field === "uses");
  if (uses === undefined || countsUses(uses)) return [];
  const place = { sheet: register.sheet, row: null, column: uses.column, heading: uses.heading };
  const cause = `"${uses.heading}" does not clearly hold uses a month; it is not used, and the shortest interval applies.`;
  const fix = `Provide uses a month, or monthly counts on a separate sheet; if these are uses a month, name the column "Uses per month" or give --match "uses=${uses.heading}".`;
  return [fault("no uses a month", place, cause, fix)];
}

/** A column of ours that is empty is reported once, not at every device; a column of many parts is not asked for one. */
function isToldBy(
  { column, problem, byRow, inBlocks }: Undated,
  { kind, ...at }: Problem,
): boolean {
  if (at.sheet !== problem.sheet) return false;
  if (kind === "device missing") return at.row !== null && inBlocks.includes(at.row);
  if (kind === "unclear column" || kind === "own limit unclear") return byRow.includes(at.heading);
  return kind === "no date" && column !== null && at.column === column;
}
