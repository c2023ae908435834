import { whyOf } from "../answers/answers.ts";
import type { Day } from "../../core/day.ts";
import { markOf } from "../answers/marks.ts";
import { eachPosition } from "../records/positions.ts";
import type { Part, Reading } from "../records/records.ts";
import { outOfUseBy } from "./today.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { timesDue } from "../evidence/inspections.ts";
import { type Serving, servingFleet } from "../reading/dates/serving.ts";
import { judge, type JudgedRow } from "../columns/judge.ts";

/** One part of one device on a round. */
export interface RoundRow {
  readonly device: string;
  readonly part: Part;
  /** Days it is to be inspected on in the week; 0 where none. */
  readonly times: number;
  /** State word with its mark where it is to be replaced or done by the end of the week, else "". */
  readonly state: string;
  readonly due: Day | null;
  /** Why, where the date alone does not say it. */
  readonly why: string;
}

/** What is to be done at one site. */
export interface Round {
  readonly site: string;
  readonly rows: readonly RoundRow[];
}

/** The rounds of a week. */
export interface Rounds {
  readonly reportDate: Day;
  readonly monday: Day;
  readonly rounds: readonly Round[];
  /** Most inspections any part is due in a week. */
  readonly times: number;
  readonly holidays: readonly Day[];
  readonly leftOut: readonly string[];
}

const WEEK = 7;

/** What is to be inspected and replaced in a week, site by site. Throws a BookError for an unknown site. */
export function roundsOf(
  snapshot: Snapshot,
  reading: Reading,
  { monday, sites }: { readonly monday: Day; readonly sites: readonly string[] },
): Rounds {
  const { parts: followed, rowAt } = judge(snapshot, reading);
  const { settings, holidays, parts } = reading.ours;
  const fleet = servingFleet(snapshot, reading, sites);
  const serving = fleet.devices.filter((one) => servesIn(one, monday));
  const wanted = parts
    .flatMap((part) => [...new Set([part, ...eachPosition(part)])])
    .filter((part) => followed.includes(part) || timesDue(part) > 0);
  const bySite = new Map<string, RoundRow[]>();
  for (const one of serving) {
    const rows = bySite.get(one.site) ?? [];
    bySite.set(one.site, rows);
    for (const part of wanted) {
      const judged = rowAt(part, one.at);
      const row = judged && rowOf({ one, part, judged, monday });
      if (row !== null && (row.times > 0 || row.state !== "")) rows.push(row);
    }
  }
  return {
    reportDate: settings.reportDate,
    monday,
    rounds: [...bySite]
      .map(([site, rows]) => ({ site, rows: rows.sort(byDevice) }))
      .sort((one, other) => one.site.localeCompare(other.site, "en")),
    times: Math.max(0, ...wanted.map(timesDue)),
    holidays: holidays.filter((date) => date >= monday && date < monday + WEEK),
    leftOut: fleet.leftOut,
  };
}

function servesIn({ from, end }: Serving, monday: Day): boolean {
  return (from === null || from < monday + WEEK) && (end === null || end > monday);
}

/** A part of a device in service, judged for a week. */
interface PartOnRound {
  readonly one: Serving;
  readonly part: Part;
  readonly judged: JudgedRow;
  readonly monday: Day;
}

function rowOf({ one, part, judged, monday }: PartOnRound): RoundRow {
  const { facts, answers } = judged;
  const { state, due } = answers;
  const base = { device: one.device.id, part, times: timesDue(part), due };
  if (state === "Overdue") return { ...base, state: marked(state), why: outOfUseBy(facts.finding) };
  if (state === "Check row") return { ...base, state: marked(state), why: whyOf(answers, facts) };
  // By the end of the week, however short the notice of Setup is.
  const isDue = state !== "Retired" && due !== null && due < monday + WEEK;
  return { ...base, state: isDue ? marked("Due soon") : "", due: isDue ? due : null, why: "" };
}

function marked(state: string): string {
  return `${markOf(state)} ${state}`;
}

function byDevice(one: RoundRow, other: RoundRow): number {
  return one.device.localeCompare(other.device, "en");
}
