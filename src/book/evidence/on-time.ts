import type { DatedJob } from "../records/job-index.ts";
import type { Day } from "../../core/day.ts";
import { nextDue } from "../../core/due.ts";
import { settled } from "../records/curve.ts";
import { answersOf, type Common, ownEnd, type RowFacts } from "../answers/answers.ts";
import { judge, type JudgedRow } from "../columns/judge.ts";
import { listed } from "../records/problems.ts";
import type { Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import type { EvidenceBasis, EvidencePeriod } from "./period.ts";
import { servesOn, type Serving } from "../reading/dates/serving.ts";
import { notedBefore } from "../reading/jobs/noted-before.ts";

/** One interval of a part that was to end in the period, or did. */
export interface Turn {
  readonly device: string;
  readonly site: string;
  readonly part: Part;
  /** The replacement before: its interval began then. */
  readonly began: Day;
  readonly due: Day;
  /** The day it was replaced, null where it was not by the report date. */
  readonly done: Day | null;
  /** Days past the due date, to the report date where it was not replaced; 0 when on time. */
  readonly daysLate: number;
  readonly finding: string;
}

/** Replacements of the period and when they were due. */
export interface OnTime {
  readonly turns: readonly Turn[];
  /** Replacements of the period without one before them, logged or kept in their note: when they were due is unknown. */
  readonly unjudged: number;
  /** Parts and devices that cannot be judged, with the reason. */
  readonly leftOut: readonly string[];
}

/**
 * Complete replacements and tasks done in the period, and those that should have been: due before its end
 * and not done. The book keeps no history of intervals, so each due date is calculated from the replacement
 * before with the interval of the report date, the shortest where usage is in doubt.
 */
export function replacedOnTime(
  snapshot: Snapshot,
  reading: Reading,
  { devices, log, period }: EvidenceBasis,
): OnTime {
  const { parts, rowAt, common } = judge(snapshot, reading);
  const turns: Turn[] = [];
  const leftOut: string[] = [];
  let unjudged = 0;
  for (const part of parts) {
    const rows = devices.map(({ at }) => rowAt(part, at));
    const dates = rows.map((row) => rowDates(part, row, common));
    const undated: string[] = [];
    if (rows.some((row) => row !== null) && dates.every((date) => date === null)) {
      leftOut.push(`${part.name}: its limits on Parts are missing or crossed`);
      continue;
    }
    devices.forEach((serving, at) => {
      const own = dates[at] ?? null;
      if (own === null) return;
      const { renewals } = log.of(serving.device.key, part);
      const unit = { serving, part, renewals, ...own, common };
      turns.push(...doneTurns(unit, period), ...openTurn(unit, period));
      const known = own.registered !== null || renewals.length > 0;
      if (!known && servesOn(serving, period.to)) undated.push(serving.device.id);
      const [first] = renewals;
      if (first !== undefined && isIn(period, first.date) && notedBefore(first) === null)
        unjudged += 1;
    });
    if (undated.length > 0) {
      leftOut.push(`${part.name} of ${listed(undated)}: no date that can be trusted`);
    }
  }
  return { turns, unjudged, leftOut };
}

interface Unit extends RowDates {
  readonly serving: Serving;
  readonly part: Part;
  readonly renewals: readonly DatedJob[];
  readonly common: Common;
}

interface RowDates {
  readonly months: number;
  readonly own: RowFacts["own"];
  /** The register's own date where it can be trusted. */
  readonly registered: Day | null;
}

/**
 * Interval and date of a row as the register has them; a device that has left is judged as if it had not, and
 * doubt about the whole row, or a remark, takes no date away: what is late stays late.
 */
function rowDates(part: Part, row: JudgedRow | null, common: Common): RowDates | null {
  if (row === null) return null;
  const facts = { ...row.facts, retired: false };
  const { interval } = answersOf(settled(part), facts, common);
  if (typeof interval !== "number") return null;
  const isOfRow = row.device.doubt !== null || facts.doubt === "part remark";
  const doubt = isOfRow ? null : facts.doubt;
  const { due } = answersOf(settled(part), { ...facts, doubt }, common);
  const { lastDone } = facts;
  const registered =
    due !== null && typeof lastDone === "number" ? (Math.floor(lastDone) as Day) : null;
  return { months: interval, own: facts.own, registered };
}

function isIn({ from, to }: EvidencePeriod, date: Day): boolean {
  return date >= from && date <= to;
}

function doneTurns(unit: Unit, period: EvidencePeriod): Turn[] {
  return unit.renewals.flatMap((job, at) => {
    const began = unit.renewals[at - 1]?.date ?? notedBefore(job);
    if (began === null || !isIn(period, job.date)) return [];
    return [turnOf(unit, began, { done: job.date, finding: job.finding, end: job.date })];
  });
}

/** The interval that ran out before the end of the period, without a replacement by then. */
function openTurn(unit: Unit, { to }: EvidencePeriod): Turn[] {
  const { serving, renewals, registered, common } = unit;
  const last = renewals.filter(({ date }) => date <= to).at(-1)?.date;
  const began = last ?? (registered !== null && registered <= to ? registered : null);
  if (began === null || !servesOn(serving, to)) return [];
  const next = renewals.find(({ date }) => date > to);
  const end = next?.date ?? common.settings.reportDate;
  const turn = turnOf(unit, began, { done: next?.date ?? null, finding: next?.finding ?? "", end });
  return turn.due < to ? [turn] : [];
}

function turnOf(
  { serving, part, months, own, common }: Unit,
  began: Day,
  { done, finding, end }: { done: Day | null; finding: string; end: Day },
): Turn {
  const ours = nextDue(began, months, common.calendar);
  const due = Math.min(ours, ownEnd(began, own) ?? ours) as Day;
  const { device, site } = serving;
  return {
    device: device.id,
    site,
    part,
    began,
    due,
    done,
    daysLate: Math.max(0, end - due),
    finding,
  };
}
