import { lotTakesBack, takesBack } from "../headings/job-text.ts";
import { isoText } from "../../core/day.ts";
import { quoted } from "../workbook/cells.ts";
import { anchorEdits } from "./anchor.ts";
import { type Before, beforeOf, beforeNote } from "./before.ts";
import { BookError } from "../workbook/errors.ts";
import { type Entry, meantBy } from "./entry-meant.ts";
import { mayHaveLeft } from "../records/retired-words.ts";
import { renews, sameJobs } from "../records/job-index.ts";
import type { ColumnCells, Edit } from "../workbook/plan.ts";
import { eachPosition, partKey } from "../records/positions.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { findSheet, headingColumn, headingRow } from "../sheets/layout.ts";
import { readRows } from "../sheets/our-rows.ts";
import { JOB_LOG, jobCells } from "../sheets/job-log.ts";
import { type Taken, takeFromShelf } from "./shelf-take.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { damageIn } from "../records/finding-words.ts";
import { noteBefore } from "../reading/jobs/noted-before.ts";

/** An entry as a row of the Job log: only a replacement can be complete or not. */
export type Row = Omit<Entry, "complete"> & { readonly complete: boolean | null };

/** What logging a job changes, and what the person should know. */
export interface Logged {
  readonly edits: readonly Edit[];
  readonly device: Device;
  readonly part: Part;
  /** The job restarts the part's interval. */
  readonly renews: boolean;
  readonly notes: readonly string[];
}

/**
 * The edits that log one job: a row of the Job log; the register's date where the job starts an
 * interval again; one replacement less on the Shelf. Everything wrong with the entry is reported at once.
 *
 * Throws a BookError when the entry cannot be logged, or where `again` is not said and it was logged before
 * or the device is retired.
 */
export function logEntry(
  snapshot: Snapshot,
  reading: Reading,
  { entry, again }: { readonly entry: Entry; readonly again: boolean },
): Logged {
  const { row, ...logged } = judgedEntry(snapshot, reading, { entry, again });
  return { ...logged, edits: [...rowEdits(snapshot, [row]), ...logged.edits] };
}

/** A job that can be logged: its row of the Job log, and what it changes besides. */
export interface JudgedEntry extends Logged {
  /** The row as it is written. */
  readonly row: Row;
  /** The shelf row it takes from, and what is left there. */
  readonly shelf: Taken["shelf"];
}

/** A job with all that it changes but its row of the Job log; throws as `logEntry` does. */
export function judgedEntry(
  snapshot: Snapshot,
  reading: Reading,
  { entry, again }: { readonly entry: Entry; readonly again: boolean },
): JudgedEntry {
  const { device, part } = meantBy(entry, reading);
  if (!again && sameJobs(reading.ours, { ...entry, deviceKey: device.key }, part).length > 0) {
    throw new BookError(
      `${entry.job} ${part.name} of ${device.id} on ${isoText(entry.date)} is already in the Job log; confirm it (--again) if it was done a second time.`,
    );
  }
  // Putting a device away is the one job that a retired one may need.
  if (!again && mayHaveLeft(device) && entry.job !== "withdrawn") {
    throw new BookError(
      `${device.id} is retired in the register; confirm it (--again) if the job really was done.`,
    );
  }
  const anew = renews(jobOf(entry, part), part);
  if (anew) refuseTakenBack(entry);
  const before = anew ? beforeOf(snapshot, reading, { entry, device, part }) : null;
  const moved = anew ? anchorEdits(snapshot, reading, { entry, device, part }) : NOTHING;
  const taken =
    anew && !part.task
      ? takeFromShelf(snapshot, reading, { part, device, lot: entry.lot, date: entry.date })
      : NOTHING;
  return {
    device,
    part,
    renews: anew,
    row: { ...jobOf(kept(entry, before), part), device: device.id, part: partKey(part) },
    shelf: taken.shelf,
    edits: [...moved.edits, ...taken.edits],
    notes: [
      ...partialNotes(entry, part),
      ...(before === null ? [] : [beforeNote(before)]),
      ...moved.notes,
      ...taken.notes,
      ...endedNotes(entry, anew),
    ],
  };
}

/** What says that it was no replacement is not logged as one: the row would move the date and take a spare. */
function refuseTakenBack({ note, lot, date }: Entry): void {
  const said = takesBack(note, date) ? note : lot !== "" && lotTakesBack(lot) ? lot : null;
  if (said === null) return;
  throw new BookError(
    `${quoted(said)} may say that not the complete part was replaced on ${isoText(date)}: log it without complete, on its own day or not at all, or in other words.`,
  );
}

/** The entry as its row says it: only the replacement of a whole part can be complete or not. */
function jobOf(entry: Entry, { position }: Part): Row {
  const mayBePartial = entry.job === "replaced" && position === undefined;
  return { ...entry, complete: mayBePartial ? entry.complete : null };
}

/** The row keeps the register's date where nothing else in the book would. */
function kept(entry: Entry, before: Before | null): Entry {
  if (before === null || before.logged) return entry;
  return { ...entry, note: noteBefore(entry.note, before.date) };
}

const NOTHING: Taken = { edits: [], notes: [], shelf: null };

/** Rows below the last filled one, taken into the table. Throws a BookError where the Job log is gone, or the heading of what is to be written. */
export function rowEdits(snapshot: Snapshot, entries: readonly Row[]): Edit[] {
  const log = findSheet(snapshot, JOB_LOG);
  if (log === null) throw new BookError("The workbook has no Job log yet.");
  const row = (readRows(log, JOB_LOG).at(-1)?.row ?? headingRow(log)) + 1;
  const last = row + entries.length - 1;
  const cells = entries.map((entry) => jobCells(entry, snapshot.dateSystem));
  const blocks = JOB_LOG.columns.flatMap(({ heading, format }, at): ColumnCells[] => {
    const column = headingColumn(log, heading);
    const filled = cells.flatMap((values, down) => {
      const value = values[at] ?? null;
      return value === null ? [] : [{ row: row + down, value }];
    });
    if (filled.length === 0) return [];
    if (column === null) throw new BookError(headingGone(log.name, heading));
    return [
      {
        column,
        rows: filled.map((one) => one.row),
        values: filled.map(({ value }) => value),
        ...(typeof format === "string" ? { format } : {}),
      },
    ];
  });
  const headers = JOB_LOG.columns.flatMap(({ heading }) => {
    const column = headingColumn(log, heading);
    return column === null ? [] : [{ row: headingRow(log), column, text: heading }];
  });
  const empty = {
    firstRow: row,
    lastRow: last,
    firstColumn: 0,
    lastColumn: JOB_LOG.columns.length - 1,
  };
  const edits: Edit[] = [
    { kind: "fillCells", sheet: log.name, blocks, expects: { headers, empty, unfiltered: true } },
  ];
  const table = log.tables.find(({ area }) => area.firstRow === headingRow(log));
  if (table !== undefined && last > table.area.lastRow) {
    const area = { ...table.area, lastRow: last };
    edits.push({ kind: "growTable", sheet: log.name, table: table.name, area, columns: [] });
  }
  return edits;
}

function headingGone(sheet: string, heading: string): string {
  return `No column of ${sheet} has the heading ${heading}, so the job cannot be written: write ${heading} above its column again.`;
}

function partialNotes(entry: Entry, part: Part): string[] {
  if (part.task || entry.job !== "replaced" || entry.complete || part.position !== undefined) {
    return [];
  }
  const [first] = eachPosition(part);
  if (first !== undefined && first !== part) {
    return [
      `Not a complete set, and it names no position: it is logged and counts for none of them. Name the part ${partKey(first)} or such if it was one of them.`,
    ];
  }
  return ["Not a complete set: it is logged, and the interval still runs from the earlier date."];
}

function endedNotes(entry: Entry, anew: boolean): string[] {
  if (entry.job === "withdrawn") return ["Withdrawn: enter its status in the register as well."];
  if (entry.finding === "other") {
    return [
      "A finding of other does not end the part's life: if it is damage, log which kind, and the part is out of use.",
    ];
  }
  const ended = !anew && damageIn(entry.finding) !== null;
  return ended
    ? ["The part's life has ended: out of use now, until the complete part is replaced."]
    : [];
}
