import { existsSync, statSync } from "node:fs";
import { extname, join } from "node:path";
import { isoText, type Day } from "../core/day.ts";
import { calendarText, type DueEvent, dueEvents } from "../book/day/calendar.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import type { Wish } from "./arguments.ts";
import { writeFile } from "./files.ts";
import { type Io, UsageError } from "./io.ts";
import { type Command, onlyWord, say, tellFaults } from "./job.ts";
import { openBook } from "./open.ts";
import { progressOn } from "./progress.ts";
import { aligned } from "./report.ts";

/** The next due dates as a calendar file, or one file a site where -o is a folder. */
export const calendar: Command = (wish, io) => {
  const path = onlyWord(wish, "workbook");
  if (wish.inPlace) throw new UsageError("calendar writes a file of its own: -o OUT.ics");
  const isFolder = wish.output !== null && leadsToFolder(wish.output);
  const book = openBook(path, wish, io, progressOn(io));
  const { reading, workbook } = book;
  const { reportDate } = reading.ours.settings;
  const events = dueEvents(workbook.snapshot, reading, wish.texts("site"));
  const files = filesOf(events, wish.output, isFolder);
  const written = wish.dryRun ? [] : writeAll(files, reportDate, wish, io);
  const planned = files.map(({ path: to, events: inside }) => `${to}: ${inside.length} due dates`);
  say(
    io,
    wish,
    () => [
      ...eventTexts(events, reportDate),
      ...(planned.length === 0 ? [] : ["", ...planned]),
      "",
      CAUTIONS.latestPlannedDate,
      CAUTIONS.planningAid,
    ],
    () => ({
      reportDate: isoText(reportDate),
      events: events.map(({ date, ...event }) => ({ date: isoText(date), ...event })),
      ...(wish.dryRun ? { edits: planned } : {}),
      ...(written.length > 0 ? { written } : {}),
    }),
  );
  return tellFaults(book, io);
};

interface IcsFile {
  readonly path: string;
  readonly events: readonly DueEvent[];
}

function leadsToFolder(output: string): boolean {
  if (existsSync(output) && statSync(output).isDirectory()) return true;
  if (extname(output).toLowerCase() === ".ics") return false;
  throw new UsageError(
    `-o must be a file that ends in .ics or a folder that is there, got ${output}`,
  );
}

/** A calendar needs an entry, so nothing is written where nothing is due. */
function filesOf(events: readonly DueEvent[], output: string | null, isFolder: boolean): IcsFile[] {
  if (output === null || events.length === 0) return [];
  if (!isFolder) return [{ path: output, events }];
  const bySite = new Map<string, DueEvent[]>();
  for (const event of events) {
    const name = `due ${fileWords(event.site)}.ics`;
    bySite.set(name, [...(bySite.get(name) ?? []), event]);
  }
  return [...bySite]
    .sort(([one], [other]) => one.localeCompare(other, "en"))
    .map(([name, inside]) => ({ path: join(output, name), events: inside }));
}

/** A site in a file's name: letters, digits, - and _; what is alike then shares a file. */
function fileWords(site: string): string {
  return site
    .replaceAll(/[^\p{L}\p{N}_-]+/gu, "_")
    .slice(0, 60)
    .toLowerCase();
}

function writeAll(files: readonly IcsFile[], reportDate: Day, wish: Wish, io: Io): string[] {
  const there = files.find(({ path }) => existsSync(path));
  if (there !== undefined && !wish.force) {
    throw new UsageError(`${there.path} is already there; choose another name or say --force`);
  }
  return files.map(({ path, events }) => {
    const bytes = Buffer.from(calendarText(events, reportDate));
    writeFile(bytes, { path, force: wish.force, inPlace: null, stamp: io.stamp() });
    return path;
  });
}

function eventTexts(events: readonly DueEvent[], reportDate: Day): string[] {
  if (events.length === 0) return [`Nothing is due in the year from ${isoText(reportDate)}.`];
  return [
    `Due dates in the year from ${isoText(reportDate)}: ${events.length}.`,
    "",
    ...aligned(events.map(({ date, summary }) => [isoText(date), summary])),
  ];
}
