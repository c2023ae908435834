import { type Field } from "../../headings/fields.ts";
import { ACCEPTED, matcherFor, saysLastReplaced } from "../../headings/match.ts";
import { workReader } from "../../headings/work-text.ts";
import { holdsJob } from "../../records/job-index.ts";
import { OWN_LOG, type OwnLog } from "../../records/own-log.ts";
import { unitNamed } from "../../records/positions.ts";
import type { Job, Ours } from "../../records/records.ts";
import { keyOf, type Page } from "../../workbook/cells.ts";
import type { Sheet } from "../../workbook/snapshot.ts";
import { jobsOf } from "./own-log-jobs.ts";
import { linesOf, type LogLine, wordingsOf } from "./own-log-lines.ts";
import { withoutOddDays } from "./own-log-days.ts";
import { tablesBeside } from "./own-log-tables.ts";
import { type LogSheet, logSheetIn, type LogWords } from "./own-log-sheet.ts";

/** A log as it was read, with the sheet and the lines that it was read from. */
interface ReadLog {
  readonly log: OwnLog;
  readonly sheet: LogSheet;
  readonly lines: readonly LogLine[];
}

/** The programme's own logs and the jobs in them. */
export interface OwnLogs {
  readonly read: readonly ReadLog[];
  readonly jobs: readonly Job[];
  /** The sheet that a person has said is their log, where none can be read there; else null. */
  readonly missing: string | null;
  /** A person has said that there is no log. */
  readonly none: boolean;
}

interface Beside {
  readonly ours: Ours;
  readonly isDevice: (key: string) => boolean;
  /** Whether a formula moves the date of a cell on by itself. */
  readonly isMoving: (sheet: Sheet, key: number) => boolean;
}

/** Finds and reads the logs on some sheets. */
export type ReadsLogs = (pages: readonly Page[], beside: Beside) => OwnLogs;

const NONE: OwnLogs = { read: [], jobs: [], missing: null, none: true };

/**
 * Finds and reads the logs a programme keeps itself: on these sheets, or on the one that was said. Until a
 * person has said that a sheet is their log, only what it says of damage counts.
 */
export function ownLogs(pages: readonly Page[], { ours, isDevice, isMoving }: Beside): OwnLogs {
  const said = ours.settings.matches.get(OWN_LOG)?.trim() ?? "";
  if (keyOf(said) === "none") return NONE;
  const words = wordsFor(ours, isDevice);
  const wanted = new Set([said, ...said.split(";")].map(keyOf).filter((name) => name !== ""));
  const found = pages.flatMap((page) => {
    const confirmed = wanted.has(keyOf(page.sheet.name));
    const tables = tablesBeside(page, isDevice);
    const read = tables.flatMap((table) => {
      const log = logSheetIn(table, words, confirmed || tables.length > 1);
      return log === null ? [] : readLog(log, { ours, words, confirmed, isMoving });
    });
    const [first, ...others] = read;
    return first === undefined ? [] : [others.reduce(together, first)];
  });
  const isMissing = said !== "" && !found.some(({ log }) => log.confirmed);
  return {
    read: found,
    jobs: found.flatMap(({ jobs }) => jobs),
    missing: isMissing ? said : null,
    none: false,
  };
}

function wordsFor(ours: Ours, isDevice: LogWords["isDevice"]): LogWords {
  const matcher = matcherFor(ours.parts);
  const others = matcher.fields.filter(({ key }) => key === "commissioned" || key === "retiredOn");
  const places = matcher.fields.filter(({ key }) => ["device", "serial", "site"].includes(key));
  const isOf = (fields: readonly Field[]) => (heading: string) =>
    fields.some((field) => matcher.likeness(heading, field, null) >= ACCEPTED);
  return {
    ...workReader(ours.parts),
    isDevice,
    isPlace: isOf(places),
    saysReplaced: (title) =>
      saysLastReplaced(matcher, {
        column: 0,
        heading: title.replaceAll(/\d/g, ""),
        evidence: null,
      }),
    isOther: isOf(others),
  };
}

type Read = ReturnType<typeof readLog>;

/** Two tables of one sheet as one log. */
function together(one: Read, other: Read): Read {
  const wordings = new Map(one.log.wordings.map((wording) => [wording.key, wording]));
  for (const wording of other.log.wordings) {
    const lines = (wordings.get(wording.key)?.lines ?? 0) + wording.lines;
    wordings.set(wording.key, { ...(wordings.get(wording.key) ?? wording), lines });
  }
  const lines = one.log.lines + other.log.lines;
  return {
    ...one,
    log: { ...one.log, lines, wordings: [...wordings.values()] },
    lines: [...one.lines, ...other.lines],
    jobs: [...one.jobs, ...other.jobs],
  };
}

interface Reads extends Pick<Beside, "ours" | "isMoving"> {
  readonly words: LogWords;
  readonly confirmed: boolean;
}

function readLog(sheet: LogSheet, { ours, words, confirmed, isMoving }: Reads) {
  const { name } = sheet.page.sheet;
  const written = linesOf(sheet, { ours, words, isMoving });
  const lines = withoutOddDays(written, sheet, ours.settings.reportDate);
  const wordings = wordingsOf(lines, sheet, { ours, words });
  const known = lines.filter((line) => words.isDevice(line.deviceKey));
  const jobs = known.flatMap((line) => jobsOf(line, { sheet: name, wordings, confirmed }));
  const [date = sheet.device] = sheet.dates;
  const log: OwnLog = {
    sheet: name,
    confirmed,
    columns: {
      date: sheet.headingOf(date),
      device: sheet.headingOf(sheet.device),
      work: sheet.work.map(sheet.headingOf).join(", "),
    },
    lines: lines.filter(({ key }) => key !== "").length,
    wordings: [...wordings.values()].sort((one, other) => other.lines - one.lines),
  };
  // A job that our Job log holds too is counted there.
  const own = jobs.filter(
    (job) => !holdsJob(ours, job, unitNamed(ours.parts, job.part)?.part ?? null),
  );
  return { log, sheet, lines, jobs: own };
}
