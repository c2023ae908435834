import { isoText } from "../../../core/day.ts";
import { fault } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import type { Contradiction, RetirementNote } from "./in-use.ts";

const FIX =
  "Correct the retirement, or what contradicts it; until then the device stays in service.";
const FIX_UNDATED =
  'If it has left since, write the day under "Retired on"; until then the device stays in service.';

/** Retirements that the book contradicts, in words. */
export function retirementsTold(notes: readonly RetirementNote[]): Problem[] {
  return notes.map(({ kind, place, device, why, isUndated }) =>
    fault(kind, place, `${device} ${saidOf(why)}`, isUndated ? FIX_UNDATED : FIX),
  );
}

function saidOf(why: Contradiction): string {
  switch (why[0]) {
    case "struck day":
      return "has a day of retirement that is struck through.";
    case "struck status":
      return "has a status that is struck through.";
    case "unread day":
      return "is marked as retired, on a day that cannot be read.";
    case "swapped day":
      return "is marked as retired, on a day whose day and month may be swapped.";
    case "day to come":
      return `is marked as retired, but its day of retirement is ${isoText(why[1])}.`;
    case "used lately":
      return `is marked as retired without a day, and was in use on ${isoText(why[1])}, less than three months ago.`;
    case "serving":
      return `is retired since ${isoText(why[1])}, but its status is ${why[2]}.`;
    case "before first use":
      return `is retired since ${isoText(why[1])}, before it was commissioned on ${isoText(why[2])}.`;
    case "used since":
      return `is marked as retired since ${isoText(why[1])}, but was in use on ${isoText(why[2])}.`;
  }
}
