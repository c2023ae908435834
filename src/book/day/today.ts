import { weekStart, type Day } from "../../core/day.ts";
import { whyOf } from "../answers/answers.ts";
import { judge, type JudgedRow } from "../columns/judge.ts";
import { jobIndex } from "../records/job-index.ts";
import { deviceKey } from "../records/device-key.ts";
import { partKey } from "../records/positions.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { finished, type Steps } from "../workbook/steps.ts";

/** One part of one device that needs a decision. */
export interface DueItem {
  readonly device: string;
  readonly site: string;
  readonly part: string;
  /** What a job names the part, or the position of it, by. */
  readonly unit: string;
  readonly state: "Overdue" | "Check row" | "Due soon";
  readonly due: Day | null;
  /** Days past the due date; negative while it lies ahead, null without one. */
  readonly daysLate: number | null;
  /** A finding has ended the part's life, whatever its date. */
  readonly outOfUse: boolean;
  /** Why: a finding, or the row check where it is not OK. */
  readonly why: string;
  /** Where its row stands. */
  readonly sheet: string;
  readonly row: number;
}

/** A part of a device that lacks inspection days in the running ISO week and was not inspected today. */
export type ToInspect = Pick<DueItem, "device" | "site" | "part" | "unit" | "sheet" | "row">;

/** What needs a decision on the report date, worst first. */
export interface Today {
  readonly reportDate: Day;
  readonly devices: number;
  readonly overdue: number;
  readonly dueSoon: number;
  readonly toCheck: number;
  readonly notDue: number;
  readonly retired: number;
  readonly items: readonly DueItem[];
  /** Devices whose parts still lack inspection days in the running ISO week; null without a log. */
  readonly inspectionsMissing: number | null;
  /** What of it can be done today, by site and device. */
  readonly toInspect: readonly ToInspect[];
}

const WORST_FIRST = ["Overdue", "Check row", "Due soon"] as const;

/** The state of the whole register on the report date. */
export function todayOf(snapshot: Snapshot, reading: Reading): Today {
  return finished(todaySteps(snapshot, reading));
}

/** The same in steps. */
export function* todaySteps(snapshot: Snapshot, reading: Reading): Steps<Today> {
  const judged = judge(snapshot, reading);
  const { reportDate } = reading.ours.settings;
  const due: DueItem[] = [];
  let notDue = 0;
  const retired = new Set<Device>();
  for (const part of judged.parts) {
    yield;
    for (const row of yield* judged.rowSteps(part)) {
      const item = itemOf(part, row, reportDate);
      if (item) due.push(item);
      else if (row.answers.state === "Retired") retired.add(row.device);
      else notDue += 1;
    }
  }
  const lacking = inspectionsLacking(reading, retired);
  yield;
  const items = yield* inOrder(due, reading.devices);
  const [overdue = 0, toCheck = 0, dueSoon = 0] = WORST_FIRST.map(
    (state) => due.filter((item) => item.state === state).length,
  );
  return {
    reportDate,
    devices: reading.devices.length,
    overdue,
    dueSoon,
    toCheck,
    notDue,
    retired: retired.size,
    items,
    inspectionsMissing:
      lacking === null ? null : new Set(lacking.map(({ device }) => deviceKey(device))).size,
    toInspect: (lacking ?? []).filter(({ isDoneToday }) => !isDoneToday),
  };
}

/** What a part of a device needs decided; null where it needs nothing. */
function itemOf(
  part: Part,
  { device, facts, answers }: JudgedRow,
  reportDate: Day,
): DueItem | null {
  const { state, due } = answers;
  if (state !== "Overdue" && state !== "Check row" && state !== "Due soon") return null;
  const outOfUse = outOfUseBy(facts.finding);
  return {
    state,
    due,
    daysLate: due === null ? null : reportDate - due,
    device: device.id,
    site: device.site,
    part: part.name,
    unit: partKey(part),
    outOfUse: outOfUse !== "",
    why: outOfUse !== "" ? outOfUse : whyOf(answers, facts),
    sheet: device.sheet,
    row: device.row,
  };
}

/** "out of use: crack" where a finding has ended the part's life, else "". */
export function outOfUseBy(finding: string | null): string {
  return finding === null ? "" : `out of use: ${finding}`;
}

const { compare } = new Intl.Collator("en");

/** The places of texts in alphabetical order. */
function placesOf(texts: readonly string[]): ReadonlyMap<string, number> {
  const sorted = [...new Set(texts)].sort(compare);
  const places = new Map<string, number>();
  let place = 0;
  sorted.forEach((text, at) => {
    if (at > 0 && compare(sorted[at - 1] ?? "", text) !== 0) place = at;
    places.set(text, place);
  });
  return places;
}

/** Worst first; among those of one state what is out of use, then the longest past due, then by name. */
function* inOrder(due: readonly DueItem[], devices: readonly Device[]): Steps<DueItem[]> {
  const devicePlaces = placesOf(devices.map(({ id }) => id));
  yield;
  const partPlaces = placesOf(due.map(({ part }) => part));
  const latest = due.reduce((most, { daysLate }) => Math.max(most, daysLate ?? most), 0);
  const keys: ((item: DueItem) => number)[] = [
    ({ part }) => partPlaces.get(part) ?? 0,
    ({ device }) => devicePlaces.get(device) ?? 0,
    ({ daysLate }) => (daysLate === null ? 0 : latest - daysLate + 1),
    ({ state, outOfUse }) => 2 * WORST_FIRST.indexOf(state) + (outOfUse ? 0 : 1),
  ];
  let order = new Int32Array(due.length).map((_, at) => at);
  for (const key of keys) {
    yield;
    const numbers = new Int32Array(due.length);
    due.forEach((item, at) => (numbers[at] = key(item)));
    order = inOrderOf(order, numbers);
  }
  return Array.from(order, (at) => due[at]).filter((item) => item !== undefined);
}

/** An order of items, put into that of a small whole number each has; those with the same one stay as they are. */
function inOrderOf(order: Int32Array, numbers: Int32Array): Int32Array<ArrayBuffer> {
  const most = numbers.reduce((one, other) => Math.max(one, other), 0);
  const next = new Int32Array(most + 2);
  for (const number of numbers) next[number + 1] = (next[number + 1] ?? 0) + 1;
  for (let at = 1; at < next.length; at += 1) next[at] = (next[at] ?? 0) + (next[at - 1] ?? 0);
  const ordered = new Int32Array(order.length);
  for (const item of order) {
    const number = numbers[item] ?? 0;
    const to = next[number] ?? 0;
    ordered[to] = item;
    next[number] = to + 1;
  }
  return ordered;
}

/** Parts of devices in service that lack inspection days in the running ISO week; null without a log. */
function inspectionsLacking(
  { ours, devices }: Reading,
  retired: ReadonlySet<Device>,
): (ToInspect & { readonly isDoneToday: boolean })[] | null {
  const log = jobIndex(ours);
  if (!log.all.some(({ job }) => job === "inspected")) return null;
  const { reportDate } = ours.settings;
  const from = weekStart(reportDate);
  const parts = ours.parts.filter((part) => part.perWeek > 0);
  const lacks = ({ key }: Device, part: Part): boolean =>
    [...log.of(key, part).checks].filter((date) => date >= from).length < part.perWeek;
  return devices
    .filter((device) => !retired.has(device))
    .flatMap((device) =>
      parts
        .filter((part) => lacks(device, part))
        .map((part) => ({
          device: device.id,
          site: device.site,
          part: part.name,
          unit: partKey(part),
          sheet: device.sheet,
          row: device.row,
          isDoneToday: log.of(device.key, part).checks.has(reportDate),
        })),
    )
    .sort((one, other) => compare(one.site, other.site) || compare(one.device, other.device));
}
