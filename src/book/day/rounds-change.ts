import { weekText } from "../evidence/period.ts";
import type { Change } from "../sheets/result-plan.ts";
import { roundSheets } from "./round-sheet.ts";
import type { Rounds } from "./rounds.ts";

/** What the rounds of a week add to a book. */
export function roundsChange(found: Rounds): Change {
  const sites = found.rounds.map(({ site }) => site).join(", ");
  return {
    results: roundSheets(found),
    summary: `round sheets of ${weekText(found.monday)}: ${sites === "" ? "no device in service" : sites}`,
  };
}
