import { type Day, isoText } from "../../core/day.ts";
import { judge } from "../columns/judge.ts";
import { jobIndex } from "../records/job-index.ts";
import { eachPosition, partKey } from "../records/positions.ts";
import { counted } from "../records/problems.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";

/** The date that a job replaces in the register. */
export interface Before {
  readonly date: Day;
  /** Days from its due date to the job; null where it cannot be told. */
  readonly daysLate: number | null;
  /** The Job log holds it too. */
  readonly logged: boolean;
}

export interface Renewal {
  readonly entry: { readonly date: Day };
  readonly device: Device;
  readonly part: Part;
}

/** The register's date before a job that restarts an interval; null where there is none before it. */
export function beforeOf(
  snapshot: Snapshot,
  reading: Reading,
  { entry, device, part }: Renewal,
): Before | null {
  const at = reading.devices.indexOf(device);
  const log = jobIndex(reading.ours);
  const judged = judge(snapshot, reading);
  // Of a part with positions the one whose interval began first.
  const found = [...new Set([part, ...eachPosition(part)])].flatMap((one) => {
    const date = device.lastDone.find((done) => done.part === partKey(one))?.date ?? null;
    return date === null || date >= entry.date ? [] : [{ one, date }];
  });
  const [first] = found.sort((one, other) => one.date - other.date);
  if (first === undefined) return null;
  const { one, date } = first;
  const due = judged.rowAt(one, at)?.answers.due ?? null;
  const logged = log.of(device.key, one).renewals.some((job) => job.date === date);
  return { date, daysLate: due === null ? null : entry.date - due, logged };
}

/** "Done before on 2026-03-06; done 13 days after its due date." */
export function beforeNote({ date, daysLate }: Before): string {
  const late =
    daysLate === null || daysLate <= 0
      ? ""
      : `; done ${counted(daysLate, "day")} after its due date`;
  return `Done before on ${isoText(date)}${late}.`;
}
