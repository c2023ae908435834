import type { Setting } from "../records/setting.ts";
import { type NamedKey, SETTINGS } from "../records/settings.ts";
import type { CellValue, Snapshot } from "../workbook/snapshot.ts";
import { columnReference } from "./layout.ts";
import { SETUP } from "./setup.ts";

/**
 * A setting as a formula that finds its row by label, so that sorting Setup changes nothing; its default
 * for a blank, and what is careful where the cell cannot be used or the row does not stand exactly once.
 */
export function settingFormula(
  sheet: string,
  key: NamedKey,
  dateSystem: Snapshot["dateSystem"],
): string {
  const setting = SETTINGS[key] as Setting<unknown>;
  const { label, usual, careful, cell, taken } = setting;
  if (taken === undefined) throw new Error(`${label} has a name and no formula`);
  const values = columnReference(SETUP, sheet, "Value");
  const labels = columnReference(SETUP, sheet, "Setting");
  const value = `INDEX(${values},MATCH("${label}",${labels},0))`;
  const literal = (one: CellValue): string => JSON.stringify(one);
  // Without a report date there is no default: a blank is none either.
  const filled =
    key === "reportDate"
      ? taken(value)
      : `IF(${value}="",${literal(cell(usual, dateSystem))},${taken(value)})`;
  const read = `IF(COUNTIF(${labels},"${label}")<>1,NA(),${filled})`;
  return `IFERROR(${read},${literal(cell(careful([]), dateSystem))})`;
}
