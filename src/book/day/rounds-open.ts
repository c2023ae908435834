import { damageIn } from "../records/finding-words.ts";
import { counted, listed } from "../records/problems.ts";
import type { Reading } from "../records/records.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { isThere, placedText } from "./entries.ts";
import { roundLines } from "./round-lines.ts";

/** More entries than these are counted, not named, in a sentence. */
const NAMED = 6;

/**
 * What stands on the round sheets of a workbook and in no log: nothing of it is in any state yet. Damage and what cannot
 * be logged as it stands are named, for a part that is out of use must not wait until somebody logs it.
 *
 * @returns Sentences; none where all is logged.
 */
export function roundsOpen(snapshot: Snapshot, reading: Reading): string[] {
  const { lines, refused } = roundLines(snapshot, reading.ours.parts);
  const open = lines.filter(({ entry }) => !isThere(reading, entry));
  const entries = open.length + refused.length;
  if (entries === 0) return [];
  const damaged = open.filter(({ entry }) => damageIn(entry.finding) !== null).map(placedText);
  const unclear = refused.map(({ where, why }) => `${where}: ${why}`);
  return [
    `Round sheets hold ${counted(entries, "entry", "entries")} not logged, so no state goes by them: log BOOK --rounds BOOK logs them.`,
    ...(damaged.length === 0
      ? []
      : [`Out of use by the round sheets, whatever its state says: ${listed(damaged, NAMED)}.`]),
    ...(unclear.length === 0
      ? []
      : [`Cannot be logged until it is corrected: ${listed(unclear, NAMED)}.`]),
  ];
}
