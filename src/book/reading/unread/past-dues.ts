import { type Day, isoText } from "../../../core/day.ts";
import { ownDueField } from "../../records/own-limits.ts";
import { listed } from "../../records/problems.ts";
import type { Part } from "../../records/records.ts";
import type { RegisterReading } from "../../records/registers.ts";
import { pageNamed, quoted, trueDate } from "../../workbook/cells.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";

/** Devices named in the sentence; the rest are counted. */
const NAMED = 10;

/**
 * What the register's own due dates say of a part whose last replacement stands nowhere: those that are past. "" where
 * it has none. No due date comes of them, since nobody knows what they were counted from.
 */
export function pastDues(
  snapshot: Snapshot,
  { register, devices, ours }: RegisterReading,
  part: Part,
): string {
  const match = register.matches.find(({ field }) => field === ownDueField(part));
  const page = pageNamed(snapshot, register.sheet);
  if (match === undefined || page === null) return "";
  const { reportDate } = ours.settings;
  const past = devices.flatMap(({ row, id, retired }): { id: string; due: Day }[] => {
    const due = retired ? null : trueDate(page, row, match.column);
    return due === null || due >= reportDate ? [] : [{ id, due }];
  });
  const names = past
    .sort((one, other) => one.due - other.due)
    .map(({ id, due }) => `${id} (${isoText(due)})`);
  const heading = quoted(match.heading);
  return names.length === 0
    ? ` The dates under ${heading} say when it is due, but not since when.`
    : ` By ${heading} it is overdue at ${listed(names, NAMED)}.`;
}
