import type { Mode } from "./our-column.ts";
import { unitsIn } from "../records/positions.ts";
import type { Reading } from "../records/records.ts";
import { eachRegister, type RegisterReading } from "../records/registers.ts";
import { cellKey, sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { computedTitle } from "../answers/titles.ts";

/** How the columns of the registers were written, null where there are none. */
export function modeOf(snapshot: Snapshot, reading: Reading): Mode | null {
  const modes = eachRegister(reading).map((one) => modeIn(snapshot, one));
  return modes.find((mode) => mode === "live") ?? modes.find((mode) => mode !== null) ?? null;
}

function modeIn(snapshot: Snapshot, { register, ours }: RegisterReading): Mode | null {
  const sheet = sheetNamed(snapshot, register.sheet);
  const headings = sheet?.values[register.headerRow] ?? [];
  const due = ours.parts
    .flatMap((part) => unitsIn(register, part))
    .map((part) => headings.indexOf(computedTitle(part, "due")))
    .filter((column) => column >= 0);
  if (sheet === null || due.length === 0) return null;
  const formulas = due.flatMap((column) =>
    register.rows.flatMap((row) => sheet.formulas.get(cellKey(row, column)) ?? []),
  );
  if (formulas.length === 0) return "values";
  return formulas.some((text) => text.includes("SPARE.")) ? "live" : "portable";
}
