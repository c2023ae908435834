import type { Setting } from "../records/setting.ts";
import { eachSetting, type NamedKey, SETTINGS, type Settings } from "../records/settings.ts";
import type { CellValue, Snapshot } from "../workbook/snapshot.ts";
import { columnReference, type Layout } from "./layout.ts";

/** The Setup sheet: one row a setting. */
export const SETUP: Layout = {
  name: "Setup",
  title: "Setup of this programme",
  table: "SpareSetup",
  about: "the programme's choices; every computed column reads them from here",
  room: 100,
  columns: [
    { heading: "Setting", inPlace: true, width: 26, about: "What is set; do not rename." },
    {
      heading: "Value",
      inPlace: true,
      width: 24,
      format: ([label]) => eachSetting().find(([, one]) => one.label === label)?.[1].format,
      about: "The programme's choice.",
    },
    { heading: "What it means", width: 60, wraps: true, about: "What the setting does." },
  ],
};

/** The last row of the settings: which layout of our sheets the book has. */
export const VERSION = {
  label: "Sheet version",
  value: 1,
  about: "Layout of our sheets; do not change.",
} as const;

/** Rows that remember where the user's sheets and columns are. */
const MATCH_ABOUT = "Remembered choice; change it to use something else.";

/** Rows of a new Setup sheet. */
export function setupRows(
  settings: Settings,
  { dateSystem }: Pick<Snapshot, "dateSystem">,
): CellValue[][] {
  return [
    ...eachSetting().map(([key, { label, about, cell }]) => [
      label,
      cell(settings[key], dateSystem),
      about,
    ]),
    [VERSION.label, VERSION.value, VERSION.about],
    ...[...settings.matches].map(([key, value]) => matchRow(key, value)),
  ];
}

/** A remembered choice as its row is labelled: "column device" reads "Column device". */
export function matchLabel(key: string): string {
  return key.charAt(0).toUpperCase() + key.slice(1);
}

/** A new row for a remembered choice. */
export function matchRow(key: string, value: string): CellValue[] {
  return [matchLabel(key), value, MATCH_ABOUT];
}

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
