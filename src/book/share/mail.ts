import { type Day, isoText } from "../../core/day.ts";
import type { Round, RoundRow, Rounds } from "../day/rounds.ts";
import { weekText } from "../evidence/period.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { counted } from "../records/problems.ts";

/** What a site is told about its week: to be read, changed and sent by a person. */
export interface Mail {
  readonly site: string;
  readonly subject: string;
  readonly text: string;
}

/** A text for each site: what to replace now, what comes due, what to look at, what to inspect in the week. */
export function mailsOf(rounds: Rounds): Mail[] {
  return rounds.rounds.map((round) => mailOf(round, rounds));
}

function mailOf({ site, rows }: Round, { reportDate, monday, holidays }: Rounds): Mail {
  const of = (state: string): RoundRow[] => rows.filter((row) => row.state.endsWith(state));
  const [overdue, toCheck, due] = [of("Overdue"), of("Check row"), of("Due soon")];
  const week = `${weekText(monday)}, ${isoText(monday)} to ${isoText((monday + 6) as Day)}`;
  const blocks = [
    [`Screening equipment at ${site}, as of ${isoText(reportDate)}`],
    block(
      "Replace now:",
      overdue.map((row) => lateText(row, reportDate)),
    ),
    block(
      "No due date can be given; please tell us when these were last replaced or done:",
      toCheck.map(checkText),
    ),
    block(`Due by ${isoText((monday + 6) as Day)}; do each by its own day:`, due.map(dueText)),
    block(`Inspect in week ${week}:`, inspectTexts(rows)),
    holidays.length === 0 ? [] : [`Holidays: ${holidays.map(isoText).join(", ")}.`],
    ["Please reply with the date, device, part, finding and your initials; no patient data."],
    [CAUTIONS.damage, CAUTIONS.planningAid],
  ];
  const told = [
    ...(overdue.length === 0 ? [] : [`${overdue.length} overdue`]),
    ...(toCheck.length === 0 ? [] : [`${toCheck.length} to check`]),
    ...(due.length === 0 ? [] : [`${due.length} due`]),
  ];
  return {
    site,
    subject: `Screening equipment at ${site}, week ${weekText(monday)}: ${told.join(", ") || "inspections"}`,
    text: `${blocks
      .filter((lines) => lines.length > 0)
      .map((lines) => lines.join("\n"))
      .join("\n\n")}\n`,
  };
}

function block(heading: string, lines: readonly string[]): string[] {
  return lines.length === 0 ? [] : [heading, ...lines.map((line) => `- ${line}`)];
}

function lateText({ device, part, due, why }: RoundRow, reportDate: Day): string {
  const late =
    due === null ? "" : `, due ${isoText(due)}, ${counted(reportDate - due, "day")} late`;
  return `${device}, ${part.name}${late}${why === "" ? "" : `; ${why}`}`;
}

function checkText({ device, part, why }: RoundRow): string {
  return `${device}, ${part.name}${why === "" ? "" : `: ${why}`}`;
}

function dueText({ device, part, due }: RoundRow): string {
  return `${device}, ${part.name}${due === null ? "" : `, due ${isoText(due)}`}`;
}

/** The devices of each part, together where they are inspected as often. */
function inspectTexts(rows: readonly RoundRow[]): string[] {
  const groups = new Map<string, string[]>();
  for (const { device, part, times } of rows) {
    if (times === 0) continue;
    const what = `${part.name}, on ${counted(times, "day")}`;
    groups.set(what, [...(groups.get(what) ?? []), device]);
  }
  return [...groups].map(([what, devices]) => `${what}: ${devices.join(", ")}`);
}
