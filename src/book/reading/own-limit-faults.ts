import { eachPosition } from "../records/positions.ts";
import type { Device, Ours, Problem } from "../records/records.ts";
import { dueFaults } from "./own-due-faults.ts";
import { intervalFaults } from "./own-interval-faults.ts";
import type { Found } from "./register.ts";

/** Cells of the register's own due dates and intervals that cannot be read, or that contradict its other dates. */
export function ownLimitFaults(found: Found, ours: Ours, devices: readonly Device[]): Problem[] {
  return ours.parts.flatMap((part) => [
    // One column for the part, or one for each position of it.
    ...[...new Set([part, ...eachPosition(part)])].flatMap((one) =>
      dueFaults(found, ours, { part: one, devices }),
    ),
    ...intervalFaults(found, { part, devices }),
  ]);
}
