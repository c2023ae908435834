import { addMonths, type Day, isoText } from "../../core/day.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { type Answers, type RowFacts, whyOf } from "../answers/answers.ts";
import { type Serving, servingFleet, servesOn } from "../reading/dates/serving.ts";
import { partKey } from "../records/positions.ts";
import type { Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { judge, type JudgedRow } from "../columns/judge.ts";

/** A due date as an entry of a calendar. */
export interface DueEvent {
  /** The same whenever it is written for the same device, part and due date. */
  readonly uid: string;
  readonly site: string;
  readonly date: Day;
  readonly summary: string;
  readonly description: string;
}

/** Months looked ahead. */
const MONTHS = 12;

/**
 * Next due dates of the year ahead, one a device and part, in order. What is overdue, or has no date that
 * can be trusted, stands on the report date. Throws a BookError for a site that is not in the book.
 */
export function dueEvents(
  snapshot: Snapshot,
  reading: Reading,
  sites: readonly string[],
): DueEvent[] {
  const { parts, rowAt } = judge(snapshot, reading);
  const { reportDate } = reading.ours.settings;
  const { devices } = servingFleet(snapshot, reading, sites);
  const events = parts.flatMap((part) =>
    devices.flatMap((serving) => {
      const row = rowAt(part, serving.at);
      return row === null ? [] : eventOf({ serving, part, row, reportDate });
    }),
  );
  return eachItsOwn(events).sort(
    (one, other) => one.date - other.date || (one.uid < other.uid ? -1 : 1),
  );
}

/** A device in two rows has two entries: calendars keep one of those that are named alike. */
function eachItsOwn(events: readonly DueEvent[]): DueEvent[] {
  const given = new Map<string, number>();
  return events.map((event) => {
    const before = given.get(event.uid) ?? 0;
    given.set(event.uid, before + 1);
    return before === 0 ? event : { ...event, uid: `${before + 1}-${event.uid}` };
  });
}

/** A part of a device in service, judged. */
interface PartInService {
  readonly serving: Serving;
  readonly part: Part;
  readonly row: JudgedRow;
  readonly reportDate: Day;
}

function eventOf({ serving, part, row, reportDate }: PartInService): DueEvent[] {
  const { answers, facts } = row;
  const { state, due } = answers;
  if (state === "Retired") return [];
  const isLate = state === "Overdue" || state === "Check row" || due === null;
  const date = isLate ? reportDate : due;
  if (date > addMonths(reportDate, MONTHS) || !(isLate || servesOn(serving, date))) return [];
  const { device, site } = serving;
  const what = `${part.task ? "" : "Replace "}${part.name}: ${device.id} (${site})`;
  const when = due === null ? "none" : isoText(due);
  return [
    {
      uid: `${encodeURIComponent(wellFormed(device.key))}-${encodeURIComponent(partKey(part))}-${when}@sparespan`,
      site,
      date,
      summary: isLate ? `${state}: ${what}` : what,
      description: [
        ...factsOf(answers, facts, reportDate),
        CAUTIONS.planningAid,
        ...(part.task ? [] : PART_CAUTIONS),
      ].join("\n"),
    },
  ];
}

/** What goes with a part that is replaced; a dated task needs none of it. */
const PART_CAUTIONS = [CAUTIONS.latestPlannedDate, CAUTIONS.damage, CAUTIONS.completeSets];

function factsOf(answers: Answers, facts: RowFacts, reportDate: Day): string[] {
  const { due } = answers;
  const { finding } = facts;
  const why = whyOf(answers, facts);
  return [
    due === null ? "No due date can be trusted." : `Due ${isoText(due)}.`,
    ...(finding === null ? [] : [`Finding: ${finding}.`]),
    ...(why === "" ? [] : [`Row check: ${why}.`]),
    `As of ${isoText(reportDate)}.`,
  ];
}

/** A calendar file as RFC 5545 has it; dated by the report date, so that the same book gives the same file. */
export function calendarText(events: readonly DueEvent[], reportDate: Day): string {
  const lines = [
    "BEGIN:VCALENDAR",
    "VERSION:2.0",
    "PRODID:-//Sparespan//Due dates//EN",
    "CALSCALE:GREGORIAN",
    ...events.flatMap((event) => eventLines(event, reportDate)),
    "END:VCALENDAR",
  ];
  return lines.map((line) => `${folded(line)}\r\n`).join("");
}

function eventLines(event: DueEvent, reportDate: Day): string[] {
  const { uid, date, summary, description, site } = event;
  return [
    "BEGIN:VEVENT",
    `UID:${escapedText(uid)}`,
    `DTSTAMP:${basicDate(reportDate)}T000000Z`,
    // Without an end it lasts the whole day; it keeps nobody busy.
    `DTSTART;VALUE=DATE:${basicDate(date)}`,
    `SUMMARY:${escapedText(summary)}`,
    `DESCRIPTION:${escapedText(description)}`,
    `CATEGORIES:${escapedText(site)}`,
    "TRANSP:TRANSPARENT",
    "END:VEVENT",
  ];
}

function basicDate(date: Day): string {
  return isoText(date).replaceAll("-", "");
}

/** Text as RFC 5545, 3.3.11, has it; characters that no text may hold become spaces. */
function escapedText(text: string): string {
  return wellFormed(text)
    .replaceAll(/[\\;,]/g, (character) => `\\${character}`)
    .replaceAll(/\r\n|\r|\n/g, "\\n")
    .replaceAll(/(?!\t)\p{Cc}/gu, " ");
}

/** Halves of characters, which UTF-8 has no bytes for, become the replacement character. */
function wellFormed(text: string): string {
  return text.replaceAll(/\p{Cs}/gu, "\ufffd");
}

const LONGEST_LINE = 75;

/** A line of at most 75 octets, and lines that go on with a space; characters stay whole. */
function folded(line: string): string {
  const pieces: string[] = [];
  let octets = 0;
  let from = 0;
  for (let at = 0; at < line.length;) {
    const point = line.codePointAt(at) ?? 0;
    const size = octetsOf(point);
    if (octets + size > LONGEST_LINE) {
      pieces.push(line.slice(from, at));
      from = at;
      octets = 1;
    }
    octets += size;
    at += point < 0x10000 ? 1 : 2;
  }
  pieces.push(line.slice(from));
  return pieces.join("\r\n ");
}

function octetsOf(point: number): number {
  if (point < 0x80) return 1;
  if (point < 0x800) return 2;
  return point < 0x10000 ? 3 : 4;
}
