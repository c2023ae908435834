import { type Day, isoText } from "../../core/day.ts";
import { workCalendar } from "../../core/workday.ts";
import { keyOf } from "../workbook/cells.ts";
import { answersOf } from "../answers/answers.ts";
import { partFacts, registerFacts } from "../columns/facts.ts";
import { renews } from "../reading/history.ts";
import { partNamed } from "../records/parts.ts";
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

interface Renewal {
  readonly entry: { readonly date: Day };
  readonly device: Device;
  readonly part: Part;
}

/** The register's date before a job that starts an interval anew; null where there is none before it. */
export function beforeOf(
  snapshot: Snapshot,
  reading: Reading,
  { entry, device, part }: Renewal,
): Before | null {
  const date = device.lastDone.find((done) => done.part === part.code)?.date ?? null;
  if (date === null || date >= entry.date) return null;
  const { settings, holidays, parts, jobs } = reading.ours;
  const at = reading.devices.indexOf(device);
  const row = partFacts(registerFacts(snapshot, reading), part).rows[at];
  const calendar = workCalendar(settings.weekend, holidays);
  const due = row === undefined ? null : answersOf(part, row, { settings, calendar }).due;
  const logged = jobs.some(
    (job) =>
      job.date === date &&
      keyOf(job.device) === keyOf(device.id) &&
      partNamed(parts, job.part) === part &&
      renews(job, part),
  );
  return { date, daysLate: due === null ? null : entry.date - due, logged };
}

/** "Done before on 2026-03-06; done 13 days after its due date." */
export function beforeTold({ date, daysLate }: Before): string {
  const late =
    daysLate === null || daysLate <= 0
      ? ""
      : `; done ${counted(daysLate, "day")} after its due date`;
  return `Done before on ${isoText(date)}${late}.`;
}
