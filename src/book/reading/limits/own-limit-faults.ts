import { eachPosition } from "../../records/positions.ts";
import type { Device, Ours, Problem } from "../../records/records.ts";
import { dueFaults } from "./own-due-faults.ts";
import { intervalFaults } from "./own-interval-faults.ts";
import type { Say } from "./own-limit-habits.ts";
import type { Found } from "../register/register.ts";

const UNSAID: Say = () => ["", ""];

/**
 * Cells of the register's own due dates and intervals that cannot be read, or that contradict its other dates; why
 * is put into words by `say`, else later.
 */
export function ownLimitFaults(
  found: Found,
  ours: Ours,
  devices: readonly Device[],
  say: Say = UNSAID,
): Problem[] {
  return ours.parts.flatMap((part) => [
    // One column for the part, or one for each position of it.
    ...[...new Set([part, ...eachPosition(part)])].flatMap((one) =>
      dueFaults(found, ours, { part: one, devices, say }),
    ),
    ...intervalFaults(found, { part, devices, say }),
  ]);
}
