import { isBlank, keyOf, pagesOf, quoted } from "../../workbook/cells.ts";
import { type Headed, historyOf, latestOfThem } from "./history-columns.ts";
import { isOfEvents, type PartRows, partRowsIn } from "../rows/part-rows.ts";
import { pastDues } from "./past-dues.ts";
import { makesOne } from "../register/part-sheets.ts";
import { isBeside } from "../../headings/positions.ts";
import { fault, listed, notice, wholeSheet } from "../../records/problems.ts";
import { allLastColumns, isPosition } from "../../records/positions.ts";
import type { Part, Problem, Reading, Register } from "../../records/records.ts";
import type { Settings } from "../../records/settings.ts";
import { eachRegister, type RegisterReading } from "../../records/registers.ts";
import { type Snapshot, sheetNamed, valueAt } from "../../workbook/snapshot.ts";
import { lastDoneTitle } from "../../answers/titles.ts";
import { knownWords, wordsOf } from "../../headings/words.ts";
import { jobIndex } from "../../records/job-index.ts";
import { turnedDates, type Unused, unusedDates } from "./unused-dates.ts";

const KNOWN = new Set(knownWords());

/** A part whose date cannot be known, and the fault that says so for all its devices. */
export interface Undated {
  readonly part: Part;
  /** Our own column that stands there empty; null without one. */
  readonly column: number | null;
  readonly problem: Problem;
  /** Columns whose dates are of the part that each row names: of none they are the last replacements. */
  readonly byRow: readonly string[];
  /** Rows of a block of parts whose device stands above: that they have none is no fault of their own. */
  readonly inBlocks: readonly number[];
}

/**
 * Parts whose date cannot be known: no column was understood, or only our own empty one beside dates
 * that are not used; and the Job log is silent. Sheets that each have dates of other parts are offered as one.
 */
export function undatedParts(
  snapshot: Snapshot,
  reading: Reading,
  ofParts: readonly string[] = [],
): Undated[] {
  return eachRegister(reading).flatMap((one) => undatedIn(snapshot, one, ofParts));
}

function undatedIn(
  snapshot: Snapshot,
  reading: RegisterReading,
  ofParts: readonly string[],
): Undated[] {
  const { register, devices, ours } = reading;
  if (devices.length === 0) return [];
  const logged = jobIndex(ours).parts;
  const isTicked = reading.problems.some(
    ({ kind, sheet }) => kind === "months marked" && sheet === register.sheet,
  );
  const partsIn = partRowsIn(snapshot, reading, isTicked);
  return ours.parts
    .filter((part) => !logged.has(part))
    .flatMap((part): Undated[] => {
      if (part.task) return strangeDates(snapshot, reading, part);
      const [match, ...others] = allLastColumns(register, part);
      if (others.length > 0 || (match !== undefined && isPosition(match.field))) return [];
      const column = match?.column ?? null;
      if (column !== null && !isOurEmptyOne(snapshot, reading, { part, column })) return [];
      const all = unusedDates(snapshot, reading, part);
      const unused = all.filter(({ bare }) => !bare);
      if (column !== null && unused.length === 0) return [];
      const numbers = all.filter(({ bare, named }) => bare && named).map(({ heading }) => heading);
      const history = pastOnes(snapshot, register, unused);
      const turned = turnedDates(snapshot, reading, part);
      const beside = {
        turned,
        unused,
        numbers,
        partsIn,
        isTicked,
        ofParts,
        history,
        ...ours.settings,
      };
      const byRow = partsIn?.dates ?? [];
      const inBlocks = (partsIn?.rows ?? []).flatMap(({ row, isNamed }) => (isNamed ? [] : row));
      const missing = noColumn(register.sheet, part, beside);
      const problem = { ...missing, cause: `${missing.cause}${pastDues(snapshot, reading, part)}` };
      return [{ part, column, problem, byRow, inBlocks }];
    });
}

/** Words that say nothing of what was done. */
const SAYS_NOTHING = new Set(["last", "date", "done", "on", "next"]);

/**
 * Of a dated task only columns of dates are told under headings that nobody knows, such as an abbreviation: a
 * programme need not follow the task.
 */
function strangeDates(snapshot: Snapshot, reading: RegisterReading, part: Part): Undated[] {
  const { register } = reading;
  if (allLastColumns(register, part).length > 0) return [];
  // They may be the dates of a part that wears: of a task that would be years.
  const isKnown = (one: Part): boolean => one.task || allLastColumns(register, one).length > 0;
  if (!reading.ours.parts.every(isKnown)) return [];
  const strange = unusedDates(snapshot, reading, part)
    .filter(({ bare, heading }) => {
      const words = wordsOf(heading, KNOWN);
      return !bare && words.every(({ text }) => !KNOWN.has(text) || SAYS_NOTHING.has(text));
    })
    .map(({ heading }) => heading);
  const [first] = strange;
  if (first === undefined) return [];
  const problem = notice(
    "unclear column",
    wholeSheet(register.sheet),
    `The dates under ${listed(strange.map(quoted))} are not understood, and no heading was understood as ${part.name}.`,
    `If they are its dates, give --match "last:${part.code}=${first}".`,
  );
  return [{ part, column: null, problem, byRow: [], inBlocks: [] }];
}

interface Beside extends Pick<Settings, "positions"> {
  /** Headings of dates that are not used, the nearest first. */
  readonly unused: readonly Unused[];
  /** Headings of dates of the part, beside what stands above and is of something else. */
  readonly turned: ReturnType<typeof turnedDates>;
  /** Headings that name the part above numbers without the format of dates. */
  readonly numbers: readonly string[];
  /** The parts by row; null where rows are devices. */
  readonly partsIn: PartRows | null;
  /** Its months are marked. */
  readonly isTicked: boolean;
  /** Sheets that each have dates of other parts. */
  readonly ofParts: readonly string[];
  /** Columns of replacements one after another. */
  readonly history: readonly Headed[];
}

/** The columns like the first that names the part, or without such the first, where they are one history. */
function pastOnes(snapshot: Snapshot, register: Register, unused: readonly Unused[]) {
  const page = pagesOf(snapshot).find(({ sheet }) => sheet.name === register.sheet);
  const inOrder = [...unused].sort((one, other) => one.column - other.column);
  const first = inOrder.find((one) => one.named) ?? inOrder[0];
  return page === undefined || first === undefined ? [] : historyOf(page, register, first);
}

function noColumn(
  sheet: string,
  part: Part,
  { turned, unused, numbers, partsIn, isTicked, ofParts, positions, history }: Beside,
): Problem {
  const cause = `No heading was understood as the last replacement of ${part.name}${becauseOf(turned)}.`;
  if (partsIn !== null) {
    // Its dates are of several parts: taken for one of them they would be wrong for the others.
    const log = isOfEvents(partsIn.rows) ? ", with --log where each row is a replacement" : "";
    const how = isTicked ? ", with --ticks where each tick is a replacement" : log;
    const fix = `Each row is for one part of a device, as ${quoted(partsIn.heading)} shows: keep a row for each device and a column of dates for each part, such as ${quoted(`${part.name} replaced`)}. npx sparespan new OUT.xlsx --from BOOK.xlsx makes such a sheet${how}.`;
    return fault("no column", wholeSheet(sheet), cause, fix);
  }
  if (ofParts.length > 0) {
    const fix = `Each part has a sheet of its own: ${makesOne(ofParts)}.`;
    return fault("no column", wholeSheet(sheet), cause, fix);
  }
  if (history.length > 0) {
    return fault("no column", wholeSheet(sheet), cause, latestOfThem(part, history));
  }
  const option = (heading: string): string => `give --match "last:${part.code}=${heading}"`;
  const [nearest, ...beside] = besideEachOther(unused);
  const others = unused.map(({ heading }) => quoted(heading));
  const rivals = unused.filter(({ says }) => says).map(({ heading }) => heading);
  const counts =
    positions === "each" ? "each then has an interval of its own" : "the earliest of them counts";
  const fix =
    rivals.length > 1 && beside.length === 0
      ? eachOrOne(part, rivals)
      : others.length === 0
        ? withoutDates(numbers) || `If a column holds it, ${option("its heading")}.`
        : nearest === undefined
          ? `Dates stand under ${listed(others, MOST_NAMED)}, which do not say that they are of it: if one of them holds it, ${option("its heading")}.`
          : beside.length === 0
            ? `If it is the column "${nearest}", ${option(nearest)}.`
            : `If it is in the columns ${listed([nearest, ...beside].map(quoted), 10)}, ${option(nearest)}: ${counts}.`;
  return fault("no column", wholeSheet(sheet), cause, fix);
}

/** What stands around dates under the name of the part and does not say that it was replaced. */
function becauseOf([first]: ReturnType<typeof turnedDates>): string {
  if (first === undefined) return "";
  return `: ${quoted(first.by)} with ${quoted(first.heading)} does not say that it was replaced`;
}

const MOST_NAMED = 6;

/** What to do where several columns say when a part was replaced, of which none counts until one is chosen. */
function eachOrOne({ code, name }: Part, headings: readonly string[]): string {
  const [first = "", ...others] = headings;
  // One heading cannot be chosen before another in the same words.
  if (others.some((other) => keyOf(other) === keyOf(first))) {
    return `${quoted(first)} heads several columns. If they are of a second table, move it below the first or to a sheet of its own; if each is of a piece of it, head them ${quoted(`${name} 1 replaced`)} and ${quoted(`${name} 2 replaced`)}.`;
  }
  const all = listed(headings.map(quoted), headings.length);
  const numbered = headings.map((_, at) => quoted(`${name} ${at + 1} replaced`));
  return `${all} all say when it was replaced. If each is of a piece of it, head them ${listed(numbered, numbered.length)}, and each counts by itself; if one of them is of the whole, give --match "last:${code}=${first}", or the other.`;
}

function withoutDates(numbers: readonly string[]): string {
  return numbers.length === 0
    ? ""
    : `Under ${listed(numbers.map(quoted), MOST_NAMED)} stand numbers without the format of dates: if they are its dates, give them that format.`;
}

/**
 * The nearest heading that names the part, and those that say the same of other pieces of it; without a name, pieces
 * of one thing that are all there is.
 */
function besideEachOther(unused: readonly Unused[]): string[] {
  const [first, ...rest] = unused.filter(({ named }) => named).map(({ heading }) => heading);
  if (first !== undefined) return [first, ...rest.filter((other) => isBeside(first, other))];
  const [one = "", ...others] = unused.map(({ heading }) => heading);
  const isOneThing = others.length > 0 && others.every((other) => isBeside(one, other));
  return isOneThing ? [one, ...others] : [];
}

function isOurEmptyOne(
  snapshot: Snapshot,
  { register }: RegisterReading,
  { part, column }: { readonly part: Part; readonly column: number },
): boolean {
  const sheet = sheetNamed(snapshot, register.sheet);
  const isOurs = register.headings[column]?.toLowerCase() === lastDoneTitle(part).toLowerCase();
  return (
    isOurs && sheet !== null && register.rows.every((row) => isBlank(valueAt(sheet, row, column)))
  );
}
