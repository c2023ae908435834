import { type Day, isoText } from "../../../core/day.ts";
import { OLDEST } from "../../../core/due.ts";
import { counted, fault, listed, notice, wholeSheet } from "../../records/problems.ts";
import { LOG_WORD, type OwnLog, type Wording } from "../../records/own-log.ts";
import type { Ours, Problem } from "../../records/records.ts";
import { WORK_WORDS, workSaid } from "../../records/work.ts";
import { workText } from "../../records/work-told.ts";
import { matchLabel, SETUP } from "../../sheets/setup.ts";
import { quoted } from "../../workbook/cells.ts";
import { faultLater } from "../told/told-later.ts";
import { YEARS_BELIEVED } from "../jobs/last-done.ts";
import type { OwnLogs } from "./own-log.ts";
import type { LogLine } from "./own-log-lines.ts";
import type { LogSheet } from "./own-log-sheet.ts";

/** Wordings named in one sentence; the command own-log lists all. */
const NAMED = 8;

interface Beside {
  readonly sheet: LogSheet;
  readonly lines: readonly LogLine[];
  readonly ours: Ours;
  readonly isDevice: (key: string) => boolean;
  /** Since when a device is in use; null where nobody says. */
  readonly commissionedOf: (key: string) => Day | null;
}

/** What is told of the programme's own logs. */
export function toldOfLogs(
  { read, missing, none }: OwnLogs,
  beside: Pick<Beside, "ours" | "isDevice" | "commissionedOf">,
): Problem[] {
  if (none) return [];
  return [
    ...unreadable(beside.ours),
    ...(missing === null ? [] : [notFound(missing)]),
    ...read.flatMap(({ log, sheet, lines }) => toldOfLog(log, { sheet, lines, ...beside })),
  ];
}

/** What is told of a log: how it was understood, and every line that does not count with its reason. */
function toldOfLog(log: OwnLog, beside: Beside): Problem[] {
  const { confirmed, wordings } = log;
  if (!confirmed) return [notice("own log", wholeSheet(log.sheet), unconfirmed(log), CONFIRM)];
  return [
    notice("own log", wholeSheet(log.sheet), `${understood(log)} ${countsOf(log)}`, ""),
    ...openWordings(beside.sheet, wordings),
    ...strangers(beside),
    ...dayProblems(beside, new Map(wordings.map((one) => [one.key, one]))),
  ];
}

const CONFIRM =
  'If it is your log, confirm it once: npx sparespan own-log BOOK --confirm --in-place, or in Setup a row "Own log" with the name of the sheet; "none" if it is no log.';

/** A sheet that was said to be the log and cannot be read as one. */
function notFound(said: string): Problem {
  return fault(
    "own log not found",
    wholeSheet(said),
    `The own log was set to the sheet ${said}, but no column of devices and days can be read there.`,
    'Correct the sheet name in Setup under "Own log"; "none" means that there is no such log.',
  );
}

/** What Setup says of words and nobody can read. */
function unreadable({ settings, parts }: Ours): Problem[] {
  return [...settings.matches].flatMap(([key, said]) => {
    if (!key.startsWith(LOG_WORD) || workSaid(said, parts) !== null) return [];
    const place = { ...wholeSheet(SETUP.name), heading: matchLabel(key) };
    const cause = `${quoted(said)} is not a meaning, so these words are read as if it were not there.`;
    const codes = parts.map(({ code }) => code).join(", ");
    const fix = `Write a part (${codes}) and one of ${WORK_WORDS.join(", ")}, or nothing.`;
    return [fault("log words", place, cause, fix)];
  });
}

/** "Read as your own log: dates in "When", devices in "Unit", work in "What was done"; 57 lines." */
function understood({ columns, lines }: OwnLog): string {
  const { date, device, work } = columns;
  const words = work === "" ? "" : `, work in ${quoted(work)}`;
  return `Read as your own log: dates in ${quoted(date)}, devices in ${quoted(device)}${words}; ${counted(lines, "line")}.`;
}

function unconfirmed(log: OwnLog): string {
  const sure = linesThat(log, ({ says }) => says === "clear" || says === "said");
  const open = log.lines - sure;
  const harm = linesThat(log, ({ work }) => work.some(({ damaged }) => damaged));
  const still = harm === 0 ? "" : ` Damage in ${counted(harm, "line")} counts already.`;
  return `${understood(log)} ${sure} would count, ${open} need your decision. Nothing in it counts as a replacement until you confirm it.${still}`;
}

function countsOf(log: OwnLog): string {
  const sure = linesThat(log, ({ says }) => says === "clear" || says === "said");
  return `${sure} understood, ${log.lines - sure} not.`;
}

function linesThat({ wordings }: OwnLog, isOf: (one: Wording) => boolean): number {
  return wordings.filter(isOf).reduce((sum, { lines }) => sum + lines, 0);
}

/** Wordings that may be work and are not counted, one a problem; those that say no work, in one notice. */
function openWordings(sheet: LogSheet, wordings: readonly Wording[]): Problem[] {
  const unclear = wordings.filter(({ says }) => says === "unclear");
  const unknown = wordings.filter(({ says }) => says === "unknown");
  const partial = wordings.filter(
    ({ says, work }) => says === "clear" && work.some(({ complete }) => complete === false),
  );
  const names = listed(
    unknown.map(({ text, lines }) => `${quoted(text)} (${lines})`),
    NAMED,
  );
  return [
    ...unclear.map((one) => {
      const may = one.work.length === 0 ? "work on a part" : quoted(workText(one.work));
      const cause = `${quoted(one.text)} (${counted(one.lines, "line")}) may be ${may} or not: it is not counted.`;
      return fault("log words", placeOf(sheet, one.row), cause, sayWhat(one));
    }),
    ...partial.map(({ text, lines, row }) => {
      const cause = `${quoted(text)} (${counted(lines, "line")}) says that only part of a set was replaced, so it is not counted.`;
      return notice("partial set", placeOf(sheet, row), cause, "Replace the complete set.");
    }),
    ...(unknown[0] === undefined
      ? []
      : [
          notice(
            "log words",
            placeOf(sheet, unknown[0].row),
            `No work can be read from ${names}: not counted.`,
            sayWhat(unknown[0]),
          ),
        ]),
  ];
}

function sayWhat({ key, work }: Wording): string {
  // No meaning is proposed where none was read: somebody would paste it.
  const meaning = work.length === 0 ? "MEANING" : workText(work);
  const means =
    work.length === 0
      ? ` MEANING is a part and one of ${WORK_WORDS.join(", ")}, or nothing.`
      : " Or say =nothing.";
  return `Say once what it means: npx sparespan own-log BOOK --in-place --word "${key}=${meaning}", or in Setup a row "Log word ${key}".${means}`;
}

/** Devices that are not in the register, each told once. */
function strangers({ sheet, lines, isDevice }: Beside): Problem[] {
  const byKey = new Map<string, LogLine[]>();
  for (const line of lines) {
    if (line.key === "" || isDevice(line.deviceKey)) continue;
    byKey.set(line.deviceKey, [...(byKey.get(line.deviceKey) ?? []), line]);
  }
  const heading = sheet.headingOf(sheet.device);
  return [...byKey.values()].flatMap(([first, ...others]) => {
    if (first === undefined) return [];
    const place = { sheet: sheet.page.sheet.name, row: first.row, column: sheet.device, heading };
    const count = counted(others.length + 1, "line");
    const cause = `${quoted(first.device)} (${count}) is not in the register.`;
    const fix = "Write the device as it is in the register, or add it there.";
    return [fault("unknown device", place, cause, fix)];
  });
}

/** Lines of work whose day cannot be counted. */
function dayProblems(
  { sheet, lines, ours, isDevice, commissionedOf }: Beside,
  wordings: ReadonlyMap<string, Wording>,
): Problem[] {
  const { reportDate } = ours.settings;
  const [column = null] = sheet.dates;
  const heading = column === null ? "" : sheet.headingOf(column);
  return lines.flatMap(({ row, days, fault: told, key, deviceKey }): Problem[] => {
    const work = wordings.get(key)?.work ?? [];
    if (work.length === 0 || !isDevice(deviceKey)) return [];
    const place = { sheet: sheet.page.sheet.name, row, column, heading };
    const [first] = days;
    if (first === undefined) {
      const cause = "The line has no day, so it is not counted; what it found stays open.";
      return [told ?? fault("no date", place, cause, "Type the day it was done as a date.")];
    }
    const before = Math.min(...days) as Day;
    if (before < reportDate - OLDEST)
      return [faultLater("date out of range", place, "outOfRange", before, YEARS_BELIEVED)];
    const since = commissionedOf(deviceKey);
    if (since !== null && before < since) {
      const says = `${isoText(before)} is before the device was commissioned on ${isoText(since)}.`;
      return [notice("before commissioning", place, says, "Correct whichever is wrong.")];
    }
    if (Math.max(...days) <= reportDate) return [];
    const cause = `${isoText(first)} is after the report date ${isoText(reportDate)}; the line is not counted.`;
    return [fault("future date", place, cause, "Correct the date, or the report date.")];
  });
}

function placeOf(sheet: LogSheet, row: number) {
  const [column = null] = sheet.work.length > 0 ? sheet.work : [sheet.finding];
  const heading = column === null ? "" : sheet.headingOf(column);
  return { sheet: sheet.page.sheet.name, row, column, heading };
}
