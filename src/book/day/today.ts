import { weekStart, type Day } from "../../core/day.ts";
import { type Answers, whyOf } from "../answers/answers.ts";
import { judge } from "../columns/judge.ts";
import { jobIndex } from "../records/job-index.ts";
import { deviceKey } from "../records/device-key.ts";
import { partKey } from "../records/positions.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { eachOf, finished, type Steps } from "../workbook/steps.ts";

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

/** A part of a device that still lacks inspection days in the running ISO week. */
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
  /** The parts of those devices, by site and device. */
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
  const items = { Overdue: [], "Check row": [], "Due soon": [] } as Record<
    DueItem["state"],
    DueItem[]
  >;
  let notDue = 0;
  const retired = new Set<Device>();
  for (const part of judged.parts) {
    yield;
    for (const { device, facts, answers } of yield* judged.rowSteps(part)) {
      const item = itemOf(answers, reportDate);
      if (item) {
        const outOfUse = outOfUseBy(facts.finding);
        items[item.state].push({
          ...item,
          device: device.id,
          site: device.site,
          part: part.name,
          unit: partKey(part),
          outOfUse: outOfUse !== "",
          why: outOfUse !== "" ? outOfUse : whyOf(answers, facts),
          sheet: device.sheet,
          row: device.row,
        });
      } else if (answers.state === "Retired") retired.add(device);
      else notDue += 1;
    }
  }
  const toInspect = inspectionsMissing(reading, retired);
  const sorted = yield* eachOf(WORST_FIRST, (state) => items[state].sort(worse));
  return {
    reportDate,
    devices: reading.devices.length,
    overdue: items.Overdue.length,
    dueSoon: items["Due soon"].length,
    toCheck: items["Check row"].length,
    notDue,
    retired: retired.size,
    items: sorted.flat(),
    inspectionsMissing:
      toInspect === null ? null : new Set(toInspect.map(({ device }) => deviceKey(device))).size,
    toInspect: toInspect ?? [],
  };
}

function itemOf(
  answers: Answers,
  reportDate: Day,
): Pick<DueItem, "state" | "due" | "daysLate"> | null {
  const { state, due } = answers;
  if (state !== "Overdue" && state !== "Check row" && state !== "Due soon") return null;
  return { state, due, daysLate: due === null ? null : reportDate - due };
}

/** "out of use: crack" where a finding has ended the part's life, else "". */
export function outOfUseBy(finding: string | null): string {
  return finding === null ? "" : `out of use: ${finding}`;
}

const { compare } = new Intl.Collator("en");

/** Among those of one state what is out of use goes first, then the longest past due; then the device. */
function worse(one: DueItem, other: DueItem): number {
  return (
    Number(other.outOfUse) - Number(one.outOfUse) ||
    (other.daysLate ?? Infinity) - (one.daysLate ?? Infinity) ||
    compare(one.device, other.device) ||
    compare(one.part, other.part)
  );
}

/** Parts of devices in service that lack inspection days in the running ISO week; null without a log. */
function inspectionsMissing(
  { ours, devices }: Reading,
  retired: ReadonlySet<Device>,
): ToInspect[] | null {
  const log = jobIndex(ours);
  if (!log.all.some(({ job }) => job === "inspected")) return null;
  const from = weekStart(ours.settings.reportDate);
  const parts = ours.parts.filter((part) => part.perWeek > 0);
  const lacks = ({ key }: Device, part: Part): boolean =>
    [...log.of(key, part).checks].filter((date) => date >= from).length < part.perWeek;
  return devices
    .filter((device) => !retired.has(device))
    .flatMap((device) =>
      parts
        .filter((part) => lacks(device, part))
        .map((part) => {
          const { id, site, sheet, row } = device;
          return { device: id, site, part: part.name, unit: partKey(part), sheet, row };
        }),
    )
    .sort((one, other) => compare(one.site, other.site) || compare(one.device, other.device));
}
