import { type Day, isoText, civilDayOrNull } from "../core/day.ts";
import { workCalendar } from "../core/workday.ts";
import { keyOf } from "./cells.ts";
import { answersOf } from "./computed.ts";
import { partFacts, registerFacts } from "./facts.ts";
import { renews } from "./history.ts";
import { partNamed } from "./parts.ts";
import { counted } from "./problems.ts";
import type { Device, Part, Reading } from "./records.ts";
import type { Snapshot } from "./snapshot.ts";

/** The date that a job replaces in the register. */
export interface Before {
  readonly date: Day;
  /** Days from its due date to the job; null where it cannot be told. */
  readonly daysLate: number | null;
  /** The Work log holds it too. */
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

const IN_NOTE = "done before on";

/** A note that keeps the date which the register no longer shows. */
export function noteBefore(note: string, date: Day): string {
  return [note, `${IN_NOTE} ${isoText(date)}`].filter((text) => text !== "").join("; ");
}

/** The date a note keeps; null where there is none, or not one before the job. */
export function notedBefore({
  note,
  date,
}: {
  readonly note: string;
  readonly date: Day;
}): Day | null {
  const found = new RegExp(`${IN_NOTE} (\\d{4})-(\\d{2})-(\\d{2})`).exec(note);
  if (found === null) return null;
  const [, year, month, dayOfMonth] = found.map(Number);
  const day = civilDayOrNull(year ?? 0, month ?? 0, dayOfMonth ?? 0);
  return day !== null && day < date ? day : null;
}
