import { isoText } from "../../core/day.ts";
import type { Change } from "../sheets/result-plan.ts";
import { useSheet } from "./usage-forecast.ts";
import type { Year } from "./year.ts";
import { yearSheet } from "./year-ahead.ts";
import { unitsSheet } from "./year-units.ts";

/** What the year ahead adds to a book. */
export function yearChange(year: Year): Change {
  const totals = year.parts.map(({ part, total }) => `${total.expected.toFixed(0)} ${part.name}`);
  return {
    results: [yearSheet(year), useSheet(year), unitsSheet(year)],
    summary: `year ahead from ${isoText(year.horizon.reportDate)}: ${totals.join(", ")}`,
  };
}
