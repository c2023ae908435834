import { partKey } from "../../book/records/positions.ts";
import { z } from "zod";
import { type Day, isoText } from "../../core/day.ts";
import { InputError } from "../../core/errors.ts";
import { CAUTIONS } from "../../book/records/cautions.ts";
import { comingWeek, weekNamed, weekText } from "../../book/evidence/period.ts";
import { type RoundRow, type Rounds, roundsOf } from "../../book/day/rounds.ts";
import { counted } from "../../book/records/problems.ts";
import { roundsChange } from "../../book/day/rounds-change.ts";
import { BOOK, command } from "../command.ts";
import { UsageError } from "../io.ts";
import { type Outcome, runJob } from "../job.ts";
import type { OpenBook } from "../open.ts";
import { type Given, one, texts } from "../option.ts";
import { DATE, jobResult, list } from "../result.ts";
import { aligned } from "../report.ts";

const RESULT = {
  reportDate: DATE,
  week: z.string(),
  holidays: list(DATE),
  sites: list(
    z.strictObject({
      site: z.string(),
      rows: list(
        z.strictObject({
          device: z.string(),
          part: z.string(),
          times: z.number(),
          state: z.string(),
          due: DATE.nullable(),
          why: z.string(),
        }),
      ),
    }),
  ),
  leftOut: list(z.string()),
};

/** What --json prints. */
type Result = z.infer<z.ZodObject<typeof RESULT>>;

const OPTIONS = {
  site: texts("CODE", "this site only; may be repeated"),
  week: one("YYYY-Www", "otherwise the week that begins on or after the report date", weekOf),
};

/** What each site has to inspect and replace in a week, as sheets to print. */
export const rounds = command({
  name: "rounds",
  moment: "The day",
  brief: "a sheet to print for each site and week",
  about: `A sheet to print for each site: what to inspect in the week and how often, what is overdue or due by
its end, and room for day, finding, initials, lot and notes. A sheet that someone has typed in is not
overwritten for another week: move what was typed into the Job log and clear the sheet first.`,
  words: BOOK,
  writes: "[-o OUT]",
  common: ["json"],
  examples: [
    "rounds equipment.xlsx -o rounds.xlsx",
    "rounds equipment.xlsx --site S01 --week 2026-W28 -o s01.xlsx",
  ],
  options: OPTIONS,
  result: jobResult(RESULT),
  run: (asked) => runJob(asked.words, asked, (book) => outcome(book, asked.given)),
});

function weekOf(text: string): Day {
  try {
    return weekNamed(text);
  } catch (error) {
    if (error instanceof InputError) throw new UsageError(`--${error.message}`);
    throw error;
  }
}

function outcome({ workbook, reading }: OpenBook, given: Given<typeof OPTIONS>): Outcome<Result> {
  const found = roundsOf(workbook.snapshot, reading, {
    monday: given.week ?? comingWeek(reading.ours.settings.reportDate),
    sites: given.site,
  });
  return { lines: roundLines(found), json: roundsJson(found), change: roundsChange(found) };
}

function roundLines(found: Rounds): string[] {
  const { monday, rounds: all, leftOut, holidays } = found;
  const due = all.flatMap(({ site, rows }) =>
    rows.filter(({ state }) => state !== "").map((row) => [site, ...rowTexts(row)]),
  );
  const counts = all.map(
    ({ site, rows }) =>
      `${site}: ${counted(new Set(rows.map(({ device }) => device)).size, "device")}, ${counted(sum(rows), "inspection")}`,
  );
  return [
    `Rounds of ${weekText(monday)}, ${isoText(monday)} to ${isoText((monday + 6) as Day)}.`,
    ...counts,
    ...(holidays.length === 0 ? [] : [`Holidays: ${holidays.map(isoText).join(", ")}.`]),
    ...(due.length === 0
      ? ["Nothing needs replacing by the end of the week."]
      : ["", ...aligned([["Site", "State", "Device", "Part", "Due", ""], ...due])]),
    ...leftOut.map((text) => `Left out: ${text}.`),
    "",
    CAUTIONS.damage,
    CAUTIONS.planningAid,
  ];
}

function sum(rows: readonly RoundRow[]): number {
  return rows.reduce((all, { times }) => all + times, 0);
}

function rowTexts({ state, device, part, due, why }: RoundRow): string[] {
  return [state, device, part.name, due === null ? "no date" : isoText(due), why];
}

function roundsJson({ reportDate, monday, rounds: all, holidays, leftOut }: Rounds): Result {
  return {
    reportDate: isoText(reportDate),
    week: weekText(monday),
    holidays: holidays.map(isoText),
    sites: all.map(({ site, rows }) => ({
      site,
      rows: rows.map(({ part, due, ...row }) => ({
        ...row,
        part: partKey(part),
        due: due === null ? null : isoText(due),
      })),
    })),
    leftOut,
  };
}
