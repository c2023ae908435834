import type { Day } from "../../../core/day.ts";
import { isEnglish } from "../../headings/words.ts";
import { languageOf } from "../../languages/dictionary.ts";
import { answered, isTick } from "../../languages/answers.ts";
import { asksWhetherDone, turnsWork } from "../../headings/work-beside.ts";
import { isQuestion, wordingKey } from "../../languages/words-of.ts";
import { deviceKey } from "../../records/device-key.ts";
import { findingText } from "../../records/finding-words.ts";
import { LOG_WORD, type Wording } from "../../records/own-log.ts";
import { movingJob, struckJob } from "../../records/problems.ts";
import { remembering } from "../../records/remembering.ts";
import type { Ours, Problem } from "../../records/records.ts";
import { workSaid } from "../../records/work.ts";
import { cellKey, type Sheet } from "../../workbook/snapshot.ts";
import { identifierAt, textOf, trueDate } from "../../workbook/cells.ts";
import { wordsSaid } from "../told/first-words.ts";
import { type DateColumn, readDates } from "../dates/date-columns.ts";
import { lineRows, workCells } from "./own-log-cells.ts";
import type { LogSheet, LogWords } from "./own-log-sheet.ts";
import { titlesIn } from "./own-log-titles.ts";

/** A line of a log: who, when, what in whose words. */
export interface LogLine {
  readonly row: number;
  readonly device: string;
  readonly deviceKey: string;
  /** Its days, none where no cell of them can be read. */
  readonly days: readonly Day[];
  /** Why a day cannot be read. */
  readonly fault: Problem | null;
  readonly text: string;
  readonly key: string;
  /** The headings of its work; null where its cells say by their own what was done. */
  readonly heading: string | null;
  readonly finding: string;
  /** What it found is no more, as a day under "Fixed" says. */
  readonly mended: boolean;
  readonly lot: string;
  readonly by: string;
}

interface Beside {
  readonly ours: Ours;
  readonly words: LogWords;
  readonly isMoving: (sheet: Sheet, key: number) => boolean;
}

/** The lines of a log that hold anything; a date that a formula moves on by itself is no day of a line. */
export function linesOf(log: LogSheet, { ours, words, isMoving }: Beside): LogLine[] {
  const { page, device } = log;
  const titles = titlesIn(log, words);
  const lines = lineRows(log, titles.isTitle);
  const rows = lines.map(({ row }) => row);
  const workIn = workCells(log, words);
  const headings = [...log.dates, device, ...log.work].map(log.headingOf);
  const language = languageOf(headings, isEnglish);
  const dates = log.dates.map((column): DateColumn => {
    const heading = log.headingOf(column);
    return readDates(page, { column, heading, rows, stated: ours.settings.dayOrder, language });
  });
  const at = (row: number, column: number | null): string =>
    column === null ? "" : textOf(page.sheet.values[row]?.[column] ?? null);
  const told = [device, ...log.dates, ...log.work];
  const turning = turningWords(log, at);
  const isMended = mendedIn(log, dates, ours.settings.reportDate);
  return lines.map(({ row, deviceRow }, place) => {
    const id = identifierAt(page, deviceRow, device);
    const work = workIn(row);
    const finding =
      log.finding === null ? "" : findingText(page.sheet.values[row]?.[log.finding]).trim();
    const said = [...work.said, finding];
    const isStruck = told.some((column) => page.sheet.struck?.has(cellKey(row, column)));
    const text = [
      said.filter((one) => one !== "").join(" "),
      noteOf(at(row, log.note), words),
      ...turning(row),
      titles.turning(row),
      // That the device of the row above is meant is a guess: damage counts, nothing else does.
      deviceRow === row ? "" : `${log.headingOf(device)}: ${at(row, device) || "blank"}`,
    ]
      .filter((one) => one !== "")
      .join("; ");
    return {
      row,
      device: id,
      deviceKey: deviceKey(id),
      ...daysOf(dates, place, (column) => {
        const isMoved = isMoving(page.sheet, cellKey(row, column.column));
        const { heading } = column;
        const cell = { sheet: page.sheet.name, row, column: column.column, heading };
        if (isStruck) return struckJob(cell);
        return isMoved
          ? movingJob(cell)
          : (column.faults.get(place) ?? column.swapped.get(place) ?? null);
      }),
      text,
      key: wordingKey(text),
      heading: work.isOwn ? null : work.heading,
      finding,
      mended: isMended(row, place),
      lot: at(row, log.lot),
      by: at(row, log.by),
    };
  });
}

/** Whether what a line found is no more: a day under "Fixed" that is none before it was found and none to come, or a yes. */
function mendedIn(
  { page, mended }: LogSheet,
  dates: readonly DateColumn[],
  reportDate: Day,
): (row: number, place: number) => boolean {
  return (row, place) =>
    mended.some((column) => {
      const day = trueDate(page, row, column);
      const text = textOf(page.sheet.values[row]?.[column] ?? null);
      if (day === null) return answered(text) === true || isTick(text);
      const days = dates.flatMap((one) => (one.column === column ? [] : (one.dates[place] ?? [])));
      return day <= reportDate && days.every((one) => one <= day);
    });
}

/** What other columns and comments of a line say that turns its work; a blank under "Done" does. */
function turningWords(
  log: LogSheet,
  at: (row: number, column: number) => string,
): (row: number) => string[] {
  const { page, device, dates, work } = log;
  // The same few words stand beside thousands of lines.
  const turnsBy = remembering((heading: string) =>
    remembering((text: string) => turnsWork(text, heading)),
  );
  const others = log.beside.map((column) => {
    const heading = log.headingOf(column);
    return { column, heading, turns: turnsBy(heading) };
  });
  const asked = [...log.beside, ...(dates.length > 1 ? dates : [])].filter((column) =>
    asksWhetherDone(log.headingOf(column)),
  );
  const told = [device, ...dates, ...work];
  return (row) =>
    [
      ...others.map(({ column, ...other }) => ({ one: at(row, column), ...other })),
      ...told.map((column) => {
        const [one, heading] = [commentAt(page.sheet, row, column), log.headingOf(column)];
        return { one, heading, turns: turnsBy("") };
      }),
    ]
      .flatMap(({ one, turns, heading }) => {
        if (one === "" || !turns(one)) return [];
        // A sign alone, or nought, is no word that tells a wording from another.
        return isQuestion(one) || /\p{L}/u.test(one) ? one : `${heading}: no`;
      })
      .concat(
        asked.flatMap((column) =>
          at(row, column) === "" ? `${log.headingOf(column)}: blank` : [],
        ),
      );
}

/** The words of a comment without whoever wrote it; "" without one. */
function commentAt({ comments }: Sheet, row: number, column: number): string {
  return wordsSaid(comments?.get(cellKey(row, column)) ?? "");
}

/** The days of a line that can be read, and what is wrong with one of them. */
function daysOf(
  dates: readonly DateColumn[],
  place: number,
  faultOf: (column: DateColumn) => Problem | null,
): Pick<LogLine, "days" | "fault"> {
  const faults = dates.map(faultOf);
  const days = dates.flatMap((column, at) =>
    faults[at] === null ? (column.dates[place] ?? []) : [],
  );
  return { days, fault: faults.find((one) => one !== null) ?? null };
}

/** What a note says of the work: "only the left one" turns the words beside it, "see folder" does not. */
function noteOf(note: string, { turns }: LogWords): string {
  return note !== "" && turns(note) ? note : "";
}

/** Every wording of the lines with what it means: as a person said, else as its words read. */
export function wordingsOf(
  lines: readonly LogLine[],
  log: LogSheet,
  { ours, words }: { readonly ours: Ours; readonly words: LogWords },
): Map<string, Wording> {
  const { name } = log.page.sheet;
  const days = log.dates.map(log.headingOf);
  const replaced = [...days, name].filter(words.saysReplaced);
  const wordings = new Map<string, Wording>();
  for (const { key, text, row, heading: own } of lines) {
    if (key === "") continue;
    const before = wordings.get(key);
    if (before !== undefined) {
      wordings.set(key, { ...before, lines: before.lines + 1 });
      continue;
    }
    const said = workSaid(ours.settings.matches.get(`${LOG_WORD}${key}`) ?? "", ours.parts);
    const heading = own === null ? "" : [own, ...replaced].join(" ");
    const { says, work } =
      said === null ? words.read(text, heading) : { says: "said" as const, work: said };
    wordings.set(key, { text, key, lines: 1, row, says, work });
  }
  return wordings;
}
