import { z } from "zod";
import { existsSync, statSync } from "node:fs";
import { extname, join } from "node:path";
import { isoText, type Day } from "../../core/day.ts";
import { calendarText, type DueEvent, dueEvents } from "../../book/day/calendar.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { type Asked, BOOK, command } from "../command.ts";
import { type ExitCode, UsageError } from "../io.ts";
import { doubtFirst, tellFaults } from "../job.ts";
import { openBook } from "../open.ts";
import { texts } from "../option.ts";
import { progressOn } from "../progress.ts";
import { DATE, DOUBTS, list } from "../result.ts";
import { aligned } from "../report.ts";
import { fileWords, writeEach } from "../site-files.ts";

const OPTIONS = { site: texts("CODE", "this site only; may be repeated") };

const RESULT = z.strictObject({
  reportDate: DATE,
  events: list(
    z.strictObject({
      date: DATE,
      uid: z.string(),
      site: z.string(),
      summary: z.string(),
      description: z.string(),
    }),
  ),
  doubts: DOUBTS,
  edits: list(z.string()).optional(),
  written: list(z.string()).optional(),
});

/** The next due dates as a calendar file, or one file a site where -o is a folder. */
export const calendar = command({
  name: "calendar",
  moment: "The day",
  brief: "next due dates for a calendar program",
  about: `The next due date of every part and task within 12 months as all-day entries (iCalendar, RFC 5545).
Anything overdue or not to be trusted is shown on the report date. If -o names an existing folder, one
file per site. An entry keeps its identity while device, part and due date stay the same; a due date
that moves makes a new entry, so import the file into a calendar of its own.`,
  words: BOOK,
  writes: "[-o OUT.ics | -o FOLDER]",
  common: ["json"],
  examples: ["calendar equipment.xlsx -o due.ics", "calendar equipment.xlsx -o calendars/"],
  options: OPTIONS,
  result: RESULT,
  run: makeCalendar,
});

function makeCalendar(asked: Asked<string, typeof OPTIONS, z.infer<typeof RESULT>>): ExitCode {
  const { words: path, given, request, io, say } = asked;
  if (request.inPlace) throw new UsageError("calendar writes a file of its own: -o OUT.ics");
  const isFolder = request.output !== null && leadsToFolder(request.output);
  const book = openBook(path, request, io, progressOn(io));
  const { reading, workbook } = book;
  const { reportDate } = reading.ours.settings;
  const events = dueEvents(workbook.snapshot, reading, given.site);
  const files = filesOf(events, request.output, isFolder);
  const written = request.dryRun ? [] : writeEach(textsOf(files, reportDate), ".ics", request);
  const planned = files.map(({ path: to, events: inside }) => `${to}: ${inside.length} due dates`);
  doubtFirst(book, say)(
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
      ...(request.dryRun ? { edits: planned } : {}),
      ...(written.length > 0 ? { written } : {}),
    }),
  );
  return tellFaults(book, io);
}

interface IcsFile {
  readonly path: string;
  readonly events: readonly DueEvent[];
}

function leadsToFolder(output: string): boolean {
  if (existsSync(output) && statSync(output).isDirectory()) return true;
  if (extname(output).toLowerCase() === ".ics") return false;
  throw new UsageError(`-o must be a file that ends in .ics or an existing folder, got ${output}`);
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

function textsOf(files: readonly IcsFile[], reportDate: Day) {
  return files.map(({ path, events }) => ({ path, text: calendarText(events, reportDate) }));
}

function eventTexts(events: readonly DueEvent[], reportDate: Day): string[] {
  if (events.length === 0) return [`Nothing is due in the year from ${isoText(reportDate)}.`];
  return [
    `Due dates in the year from ${isoText(reportDate)}: ${events.length}.`,
    "",
    ...aligned(events.map(({ date, summary }) => [isoText(date), summary])),
  ];
}
