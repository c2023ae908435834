import { type Day, isoText } from "../../core/day.ts";
import { BookError } from "../workbook/errors.ts";
import { deviceKey } from "../records/device-key.ts";
import { partNamed } from "../records/parts.ts";
import { listed } from "../records/problems.ts";
import { patientHint } from "../privacy/privacy.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { FINDINGS, JOBS } from "../sheets/job-log.ts";

/** A job as it was entered; texts as typed. */
export interface Entry {
  readonly date: Day;
  readonly device: string;
  /** The device's row of the register, counted from one, where it stands in several. */
  readonly row?: number | null;
  readonly part: string;
  readonly job: string;
  readonly finding: string;
  /** Every piece of the set was replaced. */
  readonly complete: boolean;
  readonly lot: string;
  readonly by: string;
  readonly note: string;
}

/** The device and the part of an entry that can be logged. */
export function meantBy(entry: Entry, reading: Reading): { device: Device; part: Part } {
  const { device, fault } = deviceOf(reading, entry);
  const part = partNamed(reading.ours.parts, entry.part);
  const faults = [fault, ...faultsOf(entry, reading, part)].filter((one) => one !== null);
  if (faults.length > 0 || device === null || part === null) {
    throw new BookError(`The job cannot be logged: ${faults.join("; ")}.`);
  }
  return { device, part };
}

/** The row that is meant, or why nobody can tell. */
function deviceOf(
  { devices }: Reading,
  { device: text, row = null }: Entry,
): { readonly device: Device | null; readonly fault: string | null } {
  const key = deviceKey(text);
  const rows = devices.filter((device) => device.key === key);
  const [first] = rows;
  if (first === undefined) return { device: null, fault: `"${text}" is not in the register` };
  if (row !== null) {
    const device = rows.find((one) => one.row === row - 1) ?? null;
    const fault = `row ${row} of ${first.sheet} is not ${first.id}`;
    return { device, fault: device === null ? fault : null };
  }
  if (rows.length === 1) return { device: first, fault: null };
  const sheets = new Set(rows.map(({ sheet }) => sheet));
  const all = rows.map((one) => String(one.row + 1));
  const fault =
    sheets.size === 1
      ? `${first.id} stands in rows ${listed(all, 10)} of ${first.sheet}; say which: --row ${String(all[0])}, or select the row`
      : `${first.id} stands on ${listed([...sheets], 10)}; keep one row for each device first`;
  return { device: null, fault };
}

function faultsOf(entry: Entry, reading: Reading, part: Part | null): string[] {
  const { parts, settings } = reading.ours;
  const faults: string[] = [];
  const must = (what: string, words: readonly string[], got: string): void => {
    faults.push(`${what} must be ${words.join(", ")}; got "${got}"`);
  };
  if (part === null)
    must(
      "the part",
      parts.map(({ code }) => code),
      entry.part,
    );
  if (!JOBS.some((job) => job === entry.job)) must("the job", JOBS, entry.job);
  if (entry.finding !== "" && !FINDINGS.some((finding) => finding === entry.finding)) {
    must("the finding", FINDINGS, entry.finding);
  }
  if (part?.task === true && entry.job === "replaced") {
    faults.push(`${part.name} is a dated task: it is calibrated, not replaced`);
  }
  if (entry.date > settings.reportDate) {
    faults.push(`the date ${isoText(entry.date)} is after the report date`);
  }
  if (entry.by === "") faults.push("state who did it, by role or initials");
  for (const text of [entry.lot, entry.by, entry.note]) {
    const hint = hintIn(text);
    if (hint !== null)
      faults.push(`what was typed looks like ${hint}; only roles and initials belong here`);
  }
  return faults;
}

/** What a text, or a word of it, looks like that must not be in the workbook. */
function hintIn(text: string): string | null {
  const words = [text, ...text.split(/[\s,;()]+/)];
  return words.map(patientHint).find((hint) => hint !== null) ?? null;
}
