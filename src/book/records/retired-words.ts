import type { Device } from "./records.ts";
import { RETIREMENT_DOUBTS } from "./problem-kinds.ts";

/** Days before the report date beyond which a retirement date is none. */
export const LONGEST_GONE = 18263;

/** Status words that take a device out of the programme, whatever their case. */
export const RETIRED_WORDS = [
  "retired",
  "disposed",
  "disposed of",
  "scrapped",
  "condemned",
  "decommissioned",
  "written off",
] as const;

/** Whether a cell says that a device has left; ordinary spaces do not matter, as in the formulas. */
export function saysRetired(cell: unknown): boolean {
  if (typeof cell !== "string") return false;
  const word = cell.replaceAll(/ +/g, " ").replaceAll(/^ | $/g, "").toLowerCase();
  return RETIRED_WORDS.some((retired) => retired === word);
}

/** Whether a date of retirement takes a device out on the report date; a 0 or a 1 is no date. */
export function hasLeftBy(date: number, reportDate: number): boolean {
  return Math.floor(date) <= reportDate && date >= reportDate - LONGEST_GONE;
}

/** Whether somebody has retired a device, with or without doubt: then its use is counted for no other one's good. */
export function mayHaveLeft({ retired, doubt }: Pick<Device, "retired" | "doubt">): boolean {
  return retired || RETIREMENT_DOUBTS.some((one) => one === doubt);
}
