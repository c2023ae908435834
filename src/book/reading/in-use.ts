import { addMonths, type Day, isoText, monthStart } from "../../core/day.ts";
import { jobIndex } from "../records/job-index.ts";
import type { Fleet } from "./devices.ts";
import { RETIRED_IN_USE } from "../records/problem-kinds.ts";
import { fault } from "../records/problems.ts";
import type { Count, Device, Ours, Problem } from "../records/records.ts";
import type { Found } from "./register.ts";

/** Days by which a last entry may come after a retirement: things are tidied up. */
const TIDYING = 31;
/** Months within which a count says that a device without a date of retirement is in use. */
const LATELY = 2;

interface Book {
  readonly found: Found;
  readonly fleet: Fleet;
  readonly ours: Ours;
  readonly devices: readonly Device[];
  readonly countsOf: (key: string) => readonly Count[];
}

/** Devices that are retired by the register and in use by its dates, the Job log or the counts. */
export function retiredInUse({ found, fleet, ours, devices, countsOf }: Book): Problem[] {
  const { columns, register } = found;
  const column = columns.get("retiredOn") ?? columns.get("status") ?? null;
  return fleet.named.flatMap((device, at): Problem[] => {
    if (!device.retired) return [];
    const since = fleet.retiredOn?.dates[at] ?? null;
    const used = Math.max(
      lastJob(ours, device.key) ?? 0,
      lastCounted(countsOf(device.key)),
      ...(devices[at]?.lastDone ?? []).map(({ date }) => date ?? 0),
    ) as Day;
    if (!isInUse({ since, used, ours, counts: countsOf(device.key) })) return [];
    const place = {
      sheet: found.page.sheet.name,
      row: device.row,
      column,
      heading: column === null ? "" : (register.headings[column] ?? ""),
    };
    const cause =
      since === null
        ? `${device.id} is marked as retired, but has recent counts.`
        : `${device.id} is marked as retired since ${isoText(since)}, but was in use on ${isoText(used)}.`;
    return [fault(RETIRED_IN_USE, place, cause, "Correct the retirement, or what came after it.")];
  });
}

interface Seen {
  readonly since: Day | null;
  readonly used: Day;
  readonly ours: Ours;
  readonly counts: readonly Count[];
}

function isInUse({ since, used, ours, counts }: Seen): boolean {
  if (since !== null) return used > since + TIDYING;
  const lately = addMonths(monthStart(ours.settings.reportDate), -LATELY);
  return counts.some(({ month, count }) => month >= lately && (count ?? 0) > 0);
}

/** The first day of the latest month with uses; a month is counted from its beginning. */
function lastCounted(counts: readonly Count[]): number {
  return counts.reduce(
    (last, { month, count }) => ((count ?? 0) > 0 ? Math.max(last, month) : last),
    0,
  );
}

function lastJob(ours: Ours, deviceKey: string): Day | null {
  const days = jobIndex(ours)
    .ofDevice(deviceKey)
    .flatMap(({ date }) => (date === null || date > ours.settings.reportDate ? [] : date));
  return days.length === 0 ? null : (Math.max(...days) as Day);
}
