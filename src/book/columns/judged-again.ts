import { partKey } from "../records/positions.ts";
import type { Device, Part, Reading } from "../records/records.ts";
import { isSameRow } from "../records/registers.ts";
import type { Snapshot } from "../workbook/snapshot.ts";
import { judge, type JudgedRow } from "./judge.ts";

/** A part, or a position of it, with its row as judged. */
interface JudgedUnit {
  readonly part: Part;
  readonly row: JudgedRow;
}

/**
 * A part of a device as a reading made since judges it, or each of its positions, the first due on top; none
 * where its row is gone.
 */
export function judgedAgain(
  snapshot: Snapshot,
  reading: Reading,
  { device, part }: { readonly device: Device; readonly part: Part },
): JudgedUnit[] {
  const key = partKey(part);
  const at = reading.devices.findIndex((one) => isSameRow(one, device));
  const judged = judge(snapshot, reading);
  return judged.parts
    .filter((one) => partKey(one) === key || (one.position && partKey(one.position.of)) === key)
    .flatMap((one): JudgedUnit[] => {
      const row = judged.rowAt(one, at);
      return row === null ? [] : [{ part: one, row }];
    })
    .sort((one, other) => (one.row.answers.due ?? 0) - (other.row.answers.due ?? 0));
}
