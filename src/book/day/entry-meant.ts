import { type Day, isoText } from "../../core/day.ts";
import { keyOf } from "../workbook/cells.ts";
import { BookError } from "../workbook/errors.ts";
import { deviceKey } from "../records/device-key.ts";
import { type PartMeant, unitNamed } from "../records/positions.ts";
import { listed } from "../records/problems.ts";
import { patientHint } from "../privacy/privacy.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { FINDINGS, JOBS } from "../sheets/job-log.ts";

/** A job as it was entered; texts as typed. */
export interface Entry {
  readonly date: Day;
  readonly device: string;
  /** The device's row, counted from one, where it stands in several. */
  readonly row?: number | null;
  /** The register of that row, where it stands on several. */
  readonly sheet?: string | null;
  readonly part: string;
  readonly job: string;
  readonly finding: string;
  /** Every piece of the set was replaced. */
  readonly complete: boolean;
  readonly lot: string;
  readonly by: string;
  readonly note: string;
}

/** The device and the part, or the position of it, of an entry that can be logged. */
export function meantBy(entry: Entry, reading: Reading): { device: Device; part: Part } {
  const { device, fault } = deviceOf(reading, entry);
  const meant = unitNamed(reading.ours.parts, entry.part);
  const part = meant?.part ?? null;
  const faults = [fault, ...faultsOf(entry, reading, meant)].filter((one) => one !== null);
  if (faults.length > 0 || device === null || part === null) {
    throw new BookError(`The job cannot be logged: ${faults.join("; ")}.`);
  }
  return { device, part };
}

/** The row that is meant, or why nobody can tell. */
function deviceOf(
  { devices }: Reading,
  { device: text, row = null, sheet = null }: Entry,
): { readonly device: Device | null; readonly fault: string | null } {
  const key = deviceKey(text);
  const all = devices.filter((device) => device.key === key);
  const [any] = all;
  if (any === undefined) return { device: null, fault: `"${text}" is not in the register` };
  const there = sheet === null ? all : all.filter((one) => keyOf(one.sheet) === keyOf(sheet));
  const rows = row === null ? there : there.filter((one) => one.row === row - 1);
  const [first] = rows;
  if (first === undefined) {
    const at = `${row === null ? "" : `row ${row} of `}${sheet ?? any.sheet}`;
    return { device: null, fault: `${at} is not ${any.id}` };
  }
  return rows.length === 1
    ? { device: first, fault: null }
    : { device: null, fault: `${first.id} stands in ${whichOf(rows)}, or select the row` };
}

/** The rows of a device, and how to say which. */
function whichOf(rows: readonly Device[]): string {
  const sheets = [...new Set(rows.map(({ sheet }) => sheet))];
  const parts = sheets.map((sheet) => {
    const own = rows.filter((one) => one.sheet === sheet).map(({ row }) => String(row + 1));
    return `${own.length === 1 ? "row" : "rows"} ${listed(own, 10)} of ${sheet}`;
  });
  const [first] = rows;
  const which = first === undefined ? "" : `--row ${first.row + 1}`;
  const on = sheets.length === 1 ? "" : ` --sheet "${sheets[0] ?? ""}"`;
  return `${listed(parts, 10)}; say which: ${which}${on}`;
}

function faultsOf(entry: Entry, reading: Reading, meant: PartMeant | null): string[] {
  const part = meant?.part ?? null;
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
  if (meant !== null) faults.push(...strayFaults(meant));
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

/** A position that the registers have no date for. */
function strayFaults({ part, stray }: PartMeant): string[] {
  if (stray === null) return [];
  const known = part.positions?.names ?? [];
  return [
    known.length === 0
      ? `the register has one date for ${part.name} and none of its position ${stray}`
      : `the position of ${part.name} must be ${known.join(", ")}; got "${stray}"`,
  ];
}

/** What a text, or a word of it, looks like that must not be in the workbook. */
function hintIn(text: string): string | null {
  const words = [text, ...text.split(/[\s,;()]+/)];
  return words.map(patientHint).find((hint) => hint !== null) ?? null;
}
