import { type Day, isoText } from "../../core/day.ts";
import { keyOf } from "../workbook/cells.ts";
import { partNamed } from "../records/parts.ts";
import { unitsTaken, wholeOf } from "../records/positions.ts";
import type { Edit } from "../workbook/plan.ts";
import type { Device, Part, Reading, ShelfItem } from "../records/records.ts";
import { findSheet, headingColumn, headingRow } from "../sheets/layout.ts";
import { SHELF } from "../sheets/shelf.ts";
import { siteOf } from "../records/site-names.ts";
import { cellKey, type Snapshot } from "../workbook/snapshot.ts";

/** What is taken for one replacement. */
interface Taking {
  readonly part: Part;
  readonly device: Device;
  /** The day of the replacement. */
  readonly date: Day;
  /** Lot that was fitted, "" when not said. */
  readonly lot: string;
}

/** What taking a replacement changes. */
export interface Taken {
  readonly edits: readonly Edit[];
  readonly notes: readonly string[];
  /** The row of the Shelf that was taken from, and what is left in it; null where none was. */
  readonly shelf: { readonly row: number; readonly left: number } | null;
}

/**
 * Takes one replacement from the Shelf: at the device's site, else from the programme's store; of the
 * lot that was fitted, else of the lot that expires first and has not expired. Where none was counted
 * nothing is changed and the person is informed.
 */
export function takeFromShelf(
  snapshot: Snapshot,
  reading: Reading,
  { part, device, lot, date }: Taking,
): Taken {
  const sheet = findSheet(snapshot, SHELF);
  const taken = unitsTaken(part);
  const { name } = wholeOf(part);
  const column = sheet === null ? null : headingColumn(sheet, "On hand");
  const item = itemFor(reading, { part, device, lot, date });
  if (sheet === null || column === null || item === null) {
    return {
      edits: [],
      shelf: null,
      notes: [`The Shelf shows no ${name} at ${device.site || "the device's site"}; count it.`],
    };
  }
  const where = item.site === "" ? "the programme's store" : item.site;
  const why = sheet.formulas.has(cellKey(item.row, column))
    ? "is a formula"
    : countedSince(item, date);
  if (why !== null) {
    const notes = `On hand of ${name} at ${where} ${why}; it was left as it is.`;
    return { edits: [], notes: [notes], shelf: null };
  }
  const left = (item.onHand ?? 0) - taken;
  const text = sheet.values[headingRow(sheet)]?.[column];
  const edit: Edit = {
    kind: "fillCells",
    sheet: sheet.name,
    blocks: [{ column, rows: [item.row], values: [left] }],
    expects: {
      unfiltered: true,
      headers: typeof text === "string" ? [{ row: headingRow(sheet), column, text }] : [],
    },
  };
  const notes = [
    `${name} on the shelf at ${where}: ${left} left.`,
    ...doubtsOf(item, lot, reading),
  ];
  return { edits: [edit], notes, shelf: { row: item.row, left } };
}

function itemFor(reading: Reading, { part, device, lot }: Taking): ShelfItem | null {
  const { ours } = reading;
  const home = siteOf(ours.sites, device.site);
  const enough = ours.shelf.filter(
    (item) =>
      partNamed(ours.parts, item.part) === wholeOf(part) && (item.onHand ?? 0) >= unitsTaken(part),
  );
  // What is past its expiry was hardly fitted: taken for it, a spare that is none would seem to be left.
  const rank = (item: ShelfItem): number =>
    (siteOf(ours.sites, item.site) === home && item.site !== "" ? 0 : 2) +
    (lot !== "" && keyOf(item.lot) === keyOf(lot)
      ? 0
      : isExpired(item, ours.settings.reportDate)
        ? 4
        : 1);
  return (
    enough
      .filter((item) => item.site === "" || siteOf(ours.sites, item.site) === home)
      .sort(
        (one, other) =>
          rank(one) - rank(other) || (one.expiry ?? Infinity) - (other.expiry ?? Infinity),
      )[0] ?? null
  );
}

/** What the person should look at of the stock that was taken from. */
function doubtsOf(item: ShelfItem, lot: string, { ours }: Reading): string[] {
  const isOther = lot !== "" && item.lot !== "" && keyOf(item.lot) !== keyOf(lot);
  const isPast = isExpired(item, ours.settings.reportDate);
  return [
    ...(isOther ? [`The Shelf has lot ${item.lot} there, not ${lot}; count it.`] : []),
    ...(isPast ? ["The stock taken from there has expired; count what can be used."] : []),
  ];
}

/** A count of a later day has the spare that was taken before it no more. */
function countedSince({ countedOn }: ShelfItem, date: Day): string | null {
  const isSince = countedOn !== null && countedOn > date;
  return isSince ? `was counted on ${isoText(countedOn)}, after the job` : null;
}

function isExpired({ expiry }: ShelfItem, reportDate: Day): boolean {
  return expiry !== null && expiry < reportDate;
}
