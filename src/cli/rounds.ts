import { type Day, isoText } from "../core/day.ts";
import { InputError } from "../core/errors.ts";
import { CAUTIONS } from "../book/records/cautions.ts";
import { comingWeek, weekNamed, weekText } from "../book/evidence/period.ts";
import { type RoundRow, type Rounds, roundsOf } from "../book/day/rounds.ts";
import { counted } from "../book/records/problems.ts";
import { roundsChange } from "../book/day/rounds-change.ts";
import type { Wish } from "./arguments.ts";
import { UsageError } from "./io.ts";
import { type Command, type Outcome, runJob } from "./job.ts";
import type { OpenBook } from "./open.ts";
import { aligned } from "./report.ts";

/** What each site has to inspect and replace in a week, as sheets to print. */
export const rounds: Command = (wish, io) => {
  const monday = weekOf(wish.text("week"));
  return runJob(wish, io, { work: (book) => outcome(book, wish, monday) });
};

function weekOf(text: string | null): Day | null {
  if (text === null) return null;
  try {
    return weekNamed(text);
  } catch (error) {
    if (error instanceof InputError) throw new UsageError(`--${error.message}`);
    throw error;
  }
}

function outcome({ workbook, reading }: OpenBook, wish: Wish, monday: Day | null): Outcome {
  const found = roundsOf(workbook.snapshot, reading, {
    monday: monday ?? comingWeek(reading.ours.settings.reportDate),
    sites: wish.texts("site"),
  });
  return {
    lines: roundLines(found),
    json: roundsJson(found),
    change: roundsChange(found),
  };
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
      ? ["Nothing is to be replaced by the end of the week."]
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

function roundsJson({ reportDate, monday, rounds: all, holidays, leftOut }: Rounds): object {
  return {
    reportDate: isoText(reportDate),
    week: weekText(monday),
    holidays: holidays.map(isoText),
    sites: all.map(({ site, rows }) => ({
      site,
      rows: rows.map(({ part, due, ...row }) => ({
        ...row,
        part: part.code,
        due: due === null ? null : isoText(due),
      })),
    })),
    leftOut,
  };
}
