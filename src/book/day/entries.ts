import { type Day, isoText } from "../../core/day.ts";
import { deviceKey } from "../records/device-key.ts";
import { holdsJob } from "../records/job-index.ts";
import { fieldOfPart, partKey, unitNamed } from "../records/positions.ts";
import { counted } from "../records/problems.ts";
import type { Job, Reading } from "../records/records.ts";
import { isSameRow } from "../records/registers.ts";
import type { Change } from "../sheets/result-plan.ts";
import { BookError } from "../workbook/errors.ts";
import type { Edit } from "../workbook/plan.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { type JudgedEntry, judgedEntry, rowEdits } from "./entry.ts";
import type { Entry } from "./entry-meant.ts";

/** An entry with where it was written, such as "line 3" or "Round sheet S01, row 7". */
export interface PlacedEntry {
  readonly where: string;
  readonly entry: Entry;
}

/** A line that is not logged, and why. */
export interface LineRefused {
  readonly where: string;
  readonly why: string;
}

/** Several jobs judged together: what is new, what a log has already, what cannot be logged. */
export interface Entries {
  readonly logged: readonly (PlacedEntry & { readonly judged: JudgedEntry })[];
  readonly there: readonly PlacedEntry[];
  readonly refused: readonly LineRefused[];
  readonly change: Change;
}

/**
 * Judges several jobs as if each were logged after those before it, the oldest first. Every line that cannot
 * be logged is told, not the first alone.
 */
export function logEntries(
  snapshot: Snapshot,
  reading: Reading,
  lines: readonly PlacedEntry[],
): Entries {
  const logged: (PlacedEntry & { readonly judged: JudgedEntry })[] = [];
  const there: PlacedEntry[] = [];
  const refused: LineRefused[] = [];
  let now = reading;
  const oldestFirst = [...lines].sort((one, other) => one.entry.date - other.entry.date);
  for (const line of oldestFirst) {
    if (isThere(now, line.entry)) {
      there.push(line);
      continue;
    }
    try {
      const judged = judgedEntry(snapshot, now, { entry: line.entry, again: false });
      logged.push({ ...line, judged });
      now = after(now, judged);
    } catch (error) {
      if (!(error instanceof BookError)) throw error;
      refused.push({ where: line.where, why: error.message });
    }
  }
  return { logged, there, refused, change: changeOf(snapshot, logged) };
}

function changeOf(snapshot: Snapshot, logged: readonly { readonly judged: JudgedEntry }[]): Change {
  if (logged.length === 0) return { summary: "no job to log" };
  const edits = lastOfEach(logged.flatMap(({ judged }) => judged.edits));
  const rows = rowEdits(
    snapshot,
    logged.map(({ judged }) => judged.row),
  );
  return { edits: [...rows, ...edits], summary: `${counted(logged.length, "job")} logged` };
}

/** Two replacements of one part, or from one shelf row: the later edit of a cell holds what both have left. */
function lastOfEach(edits: readonly Edit[]): Edit[] {
  const byCell = new Map<string, Edit>();
  edits.forEach((edit, at) => {
    const cells = edit.kind === "fillCells" ? edit.blocks : [];
    const key = cells.map(({ column, rows }) => `${column}:${rows.join()}`).join(";");
    const place = edit.kind === "fillCells" ? `${key} ${edit.sheet}` : String(at);
    byCell.delete(place);
    byCell.set(place, edit);
  });
  return [...byCell.values()];
}

/** Whether a log has a job already. */
export function isThere(reading: Reading, entry: Entry): boolean {
  const key = deviceKey(entry.device);
  const device = reading.devices.find((one) => one.key === key);
  const part = unitNamed(reading.ours.parts, entry.part)?.part ?? null;
  if (device === undefined || part === null) return false;
  return holdsJob(reading.ours, { ...entry, deviceKey: key }, part);
}

/** The reading as it will be once a job is logged: the next one is judged beside it. */
function after(reading: Reading, { row, device, part, renews, shelf }: JudgedEntry): Reading {
  const { ours } = reading;
  const job: Job = {
    sheet: "",
    row: -1,
    date: row.date,
    device: device.id,
    deviceKey: device.key,
    part: partKey(part),
    job: row.job,
    finding: row.finding,
    complete: row.complete,
    lot: row.lot,
    by: row.by,
    note: row.note,
  };
  return {
    ...reading,
    devices: reading.devices.map((one) =>
      renews && isSameRow(one, device)
        ? { ...one, lastDone: moved(one.lastDone, partKey(part), row.date) }
        : one,
    ),
    ours: {
      ...ours,
      jobs: [...ours.jobs, job],
      shelf: ours.shelf.map((item) =>
        item.row === shelf?.row ? { ...item, onHand: shelf.left } : item,
      ),
    },
  };
}

function moved(
  lastDone: Reading["devices"][number]["lastDone"],
  key: string,
  date: Day,
): Reading["devices"][number]["lastDone"] {
  return lastDone.map((done) => {
    // What renews a part renews each of its positions.
    if (done.part !== key && fieldOfPart(done.part) !== key) return done;
    return { ...done, date: done.date === null || done.date < date ? date : done.date };
  });
}

/** "replaced Electrode set of VR-104 on 2026-07-06", with where it was written. */
export function placedText({ where, entry }: PlacedEntry): string {
  const { job, part, device, date, finding } = entry;
  const found = finding === "" ? "" : `, ${finding}`;
  return `${where}: ${job} ${part} of ${device} on ${isoText(date)}${found}`;
}
