import { byDevice, type PartSource } from "../book/columns/by-device.ts";
import { leftBehind } from "../book/columns/left-behind.ts";
import { type MonthColumn, monthsIn } from "../book/headings/months.ts";
import { bareRows, isOfEvents, type PartRows, partRowsIn } from "../book/reading/rows/part-rows.ts";
import { rowsOfParts } from "../book/reading/register/part-sheets.ts";
import { OWN_LOG } from "../book/records/own-log.ts";
import { isLastDone } from "../book/records/positions.ts";
import { counted, listed } from "../book/records/problems.ts";
import type { Register } from "../book/records/records.ts";
import { eachRegister, type RegisterReading } from "../book/records/registers.ts";
import { resultPlan } from "../book/sheets/result-plan.ts";
import { pageNamed, quoted, trueDate } from "../book/workbook/cells.ts";
import type { Snapshot } from "../book/workbook/snapshot.ts";
import type { Request } from "./arguments.ts";
import { type Io, UsageError } from "./io.ts";
import { applied, bookOf, bytesAfter, type OpenBook } from "./open.ts";
import { openRows } from "./open-rows.ts";

/** A book that was made of others, and what is said of it. */
export interface MadeBook {
  readonly book: OpenBook;
  readonly lines: readonly string[];
}

/** How rows are taken: the column of their dates, months that are ticked in them, or all of them as lines of a log. */
interface Ways {
  readonly dates: string | null;
  readonly ticks: boolean;
  readonly log: boolean;
}

interface Beside {
  readonly request: Request;
  readonly io: Io;
  /** What is said of a workbook whose rows are devices. */
  readonly refusal: string;
}

/**
 * A workbook whose registers have a row for each part, or for each replacement of one, with a register beside them
 * that has a row for each device.
 */
export function madeByRows(
  { from, path }: { readonly from: string; readonly path: string },
  ways: Ways,
  { request, io, refusal }: Beside,
): MadeBook {
  if ([ways.log, ways.ticks, ways.dates !== null].filter(Boolean).length > 1) {
    throw new UsageError(
      "--dates, --ticks and --log are three ways of taking rows: give one of them",
    );
  }
  const before = openRows(from, request, io);
  const { snapshot } = before.workbook;
  const parted = sourcesOfParts(before, ways);
  const sources = parted.length > 0 ? parted : sourcesOfRows(before, ways, refusal);
  const { plan, sheet, told } = byDevice(snapshot, sources);
  const left = leftBehind(snapshot, sources, before.reading.problems);
  const bytes = bytesAfter(before, plan, request);
  const madeFrom = sources.map((source) => source.reading.register.sheet);
  const { summary } = plan;
  const asLog = ways.log ? [[OWN_LOG, madeFrom.join("; ")] as const] : [];
  const matches = new Map([...otherChoices(request), ...asLog]);
  const made = finishedBook({ path, bytes, sheet, madeFrom, summary }, { ...request, matches }, io);
  const how = ways.log ? logLines(made, madeFrom) : hints(sources);
  return { book: made, lines: [`${summary}.`, ...told, ...left, ...how] };
}

/** A book with a register that was just made, and what it was made of. */
interface Made {
  readonly path: string;
  readonly bytes: Uint8Array;
  /** The sheet of the register, and those that it was made of. */
  readonly sheet: string;
  readonly madeFrom: readonly string[];
  readonly summary: string;
}

/** The book with the new register chosen in it, and our sheets; what it was made of is no log unless that was said. */
export function finishedBook(
  { path, bytes, sheet, madeFrom, summary }: Made,
  request: Request,
  io: Io,
): OpenBook {
  const said = new Map([...request.matches, ["register", sheet] as const]);
  const chosen = { ...request, matches: said };
  const beside = bookOf(path, bytes, chosen, io);
  const choice =
    !said.has(OWN_LOG) && withoutLogs(beside, madeFrom)
      ? { ...chosen, matches: new Map([...said, NO_LOG]) }
      : chosen;
  const made = choice === chosen ? beside : bookOf(path, bytes, choice, io);
  const kept = resultPlan(made.workbook.snapshot, made.reading, { summary, today: io.today() });
  return applied(made, kept, choice, io);
}

/** The rows of each register, of which each is one part; refused where rows are devices. */
function sourcesOfRows({ workbook, reading: all }: OpenBook, ways: Ways, refusal: string) {
  const { snapshot } = workbook;
  return eachRegister(all).map((reading): PartSource => {
    const isDated = reading.register.matches.some(({ field }) => isLastDone(field));
    const found = isDated ? null : rowsIn(snapshot, reading, ways);
    if (found === null) throw new UsageError(refusal);
    if (ways.log) refuseUnnamed(reading, found);
    const ticks = ways.ticks ? ticksIn(snapshot, reading) : null;
    const isDay = !ways.log && !ways.ticks;
    const dates = isDay ? datesIn(snapshot, reading, { found, said: ways.dates }) : null;
    return { reading, rows: found.rows, naming: found.naming, dates, ticks };
  });
}

/** The dates of each part on sheets that have one part each; none where a sheet has them all. */
function sourcesOfParts({ workbook, reading: all }: OpenBook, ways: Ways): PartSource[] {
  const { snapshot } = workbook;
  const registers = eachRegister(all);
  if (registers.length < 2 || ways.log || ways.ticks || ways.dates !== null) return [];
  const found = registers.map((reading) =>
    rowsOfParts(snapshot, reading).map((one): PartSource => ({
      ...{ reading, ...one },
      ...{ naming: [], ticks: null },
    })),
  );
  const parts = found.map(
    (sources) => new Set(sources.flatMap(({ rows }) => rows[0]?.part?.code ?? [])),
  );
  const isOwn = parts.every((own, at) =>
    [...own].some((code) => parts.every((other, nth) => nth === at || !other.has(code))),
  );
  return isOwn ? found.flat() : [];
}

/** The parts by row; of a log any rows that name devices, whatever words say which part it was. */
function rowsIn(
  snapshot: Snapshot,
  reading: RegisterReading,
  { log, ticks }: Ways,
): PartRows | null {
  const found = partRowsIn(snapshot, reading, log || ticks);
  return found ?? (log ? bareRows(snapshot, reading) : null);
}

/** What was chosen besides the sheets and columns that the rows are taken from. */
function otherChoices({ matches }: Request): (readonly [string, string])[] {
  return [...matches].filter(([key]) => !/^(?:column |header row$|register(?: \d+)?$)/i.test(key));
}

/** A log names its device in each of its lines. */
function refuseUnnamed({ register }: RegisterReading, { rows }: PartRows): void {
  const bare = rows.find(({ isNamed }) => !isNamed);
  if (bare === undefined) return;
  throw new UsageError(
    `--log needs the device in each row, and row ${bare.row + 1} of ${register.sheet} has none: fill it in`,
  );
}

/** How the rows were read as logs. */
function logLines({ reading: { ownLogs } }: OpenBook, sheets: readonly string[]): string[] {
  return sheets.map((name) => {
    const log = ownLogs.find(({ sheet }) => sheet === name);
    if (log === undefined) {
      throw new UsageError(
        `${name} cannot be read as a log, with a day, a device and the work in each row: give --dates HEADING`,
      );
    }
    const open = log.wordings.filter(({ says }) => says !== "clear" && says !== "said");
    const not = open.reduce((sum, { lines }) => sum + lines, 0);
    const understood = counted(log.lines - not, "line");
    return `${name} is read as your log, in which the latest replacement counts: ${understood} understood, ${not} not.`;
  });
}

/** The months over the ticks of a register. */
function ticksIn(snapshot: Snapshot, { register, ours }: RegisterReading): PartSource["ticks"] {
  const months = monthsOf(snapshot, register);
  if (months.length > 0) return { months, reportDate: ours.settings.reportDate };
  throw new UsageError(
    `--ticks needs months as headings, with their year there, above them or in the sheet's name, and ${register.sheet} has none`,
  );
}

function monthsOf(
  snapshot: Snapshot,
  { sheet, headerRow, headings }: Register,
): readonly MonthColumn[] {
  const page = pageNamed(snapshot, sheet);
  return page === null
    ? []
    : monthsIn(page, { first: headerRow, last: headerRow, texts: headings });
}

/** How ticks were taken, and what to do where rows may be replacements one after another. */
function hints(sources: readonly PartSource[]): string[] {
  const months = sources.flatMap(({ ticks }) => ticks?.months ?? []);
  if (months.length > 0) {
    const years = [...new Set(months.flatMap(({ yearFrom }) => yearFrom ?? []))].map(quoted);
    return [
      "Each tick (x) was taken as a replacement on the first day of its month, and the latest counts: that is never later than the day itself.",
      ...(years.length === 0 ? [] : [`The year of the months is taken from ${listed(years)}.`]),
    ];
  }
  return sources.some(({ rows }) => isOfEvents(rows))
    ? [
        "If each row is a replacement, give --log instead of --dates: then the latest of them counts.",
      ]
    : [];
}

const NO_LOG = [OWN_LOG, "none"] as const;

/** Whether only the sheets that the new one was made from look like logs beside it. */
function withoutLogs({ reading: { ownLogs } }: OpenBook, made: readonly string[]): boolean {
  return ownLogs.length > 0 && ownLogs.every(({ sheet }) => made.includes(sheet));
}

/** The column of last replacements: the one that was said, else the only one whose heading says so. */
function datesIn(
  snapshot: Snapshot,
  { register }: RegisterReading,
  { found: { dates, rows }, said }: { readonly found: PartRows; readonly said: string | null },
): number {
  const wanted = said ?? (dates.length === 1 ? dates[0] : undefined);
  const column = register.headings.findIndex(
    (heading) => wanted !== undefined && heading.toLowerCase() === wanted.toLowerCase(),
  );
  if (column >= 0) {
    const page = pageNamed(snapshot, register.sheet);
    if (page !== null && register.rows.some((row) => trueDate(page, row, column) !== null)) {
      return column;
    }
    throw new UsageError(
      `--dates must name a column that holds dates, got "${register.headings[column] ?? ""}"`,
    );
  }
  const headings = register.headings.filter((heading) => heading !== "");
  const none = dates.length === 0 ? "No column" : "More than one column";
  const isTicked = monthsOf(snapshot, register).length > 1;
  const ticks = isTicked ? ", or --ticks where months are ticked" : "";
  const log = isOfEvents(rows) ? ", or --log where each row is a replacement" : "";
  throw new UsageError(
    said === null
      ? `${none} of ${register.sheet} says when each part was replaced last: give --dates HEADING${log}${ticks}`
      : `--dates must be one of ${listed(headings, 20)}, got "${said}"`,
  );
}
