import { eachSetting, SETTINGS, type SettingKey, type Settings } from "../records/settings.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { columnReference, type Layout, type OurRow, readRows, textOf } from "./layout.ts";

/** The Setup sheet: one row a setting. */
export const SETUP: Layout = {
  name: "Setup",
  title: "Setup of this programme",
  table: "SpareSetup",
  about: "the programme's choices; every computed column reads them from here",
  room: 100,
  columns: [
    { heading: "Setting", width: 26, about: "What is set; do not rename." },
    {
      heading: "Value",
      width: 24,
      format: ([label]) => eachSetting().find(([, one]) => one.label === label)?.[1].format,
      about: "The programme's choice.",
    },
    { heading: "What it means", width: 84, about: "What the setting does." },
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
const MATCH_LABEL = /^(register( \d+)?|counts|header row|column .+)$/i;

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

/** The settings of a Setup sheet; what is missing or unusable keeps its default and is reported. */
export function readSettings(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
  defaults: Settings,
): { readonly settings: Settings; readonly faults: readonly SettingFault[] } {
  const rows = readRows(sheet, SETUP);
  const byLabel = new Map(
    rows.map((row) => [textOf(row.values.get("Setting")).toLowerCase(), row]),
  );
  const faults: SettingFault[] = [];
  const said: Partial<Record<SettingKey, unknown>> = {};
  for (const [key, { label, take }] of eachSetting()) {
    const row = byLabel.get(label.toLowerCase());
    const value = row?.values.get("Value") ?? null;
    if (row === undefined || value === null) continue;
    const taken = take(value, dateSystem);
    if (taken === null) faults.push({ row: row.row, label });
    else said[key] = taken;
  }
  const settings = { ...defaults, ...(said as Partial<Settings>), matches: matchesIn(rows) };
  return { settings: { ...settings, countsBabies: settings.countsAre === "babies" }, faults };
}

/** Where the user's sheets and columns were said to be. */
function matchesIn(rows: readonly OurRow[]): ReadonlyMap<string, string> {
  const matches = new Map<string, string>();
  for (const { values } of rows) {
    const label = textOf(values.get("Setting"));
    const value = textOf(values.get("Value"));
    if (MATCH_LABEL.test(label) && value !== "") matches.set(matchKey(label), value);
  }
  return matches;
}

/** A setting whose value cannot be used; its default is used instead. */
export interface SettingFault {
  readonly row: number;
  readonly label: string;
}

/** "Column Last:set" and "column last:SET" are one choice; field keys keep their part in capitals. */
function matchKey(label: string): string {
  return label.toLowerCase().replace(/:([a-z]+)$/, (_, code: string) => `:${code.toUpperCase()}`);
}

/** A setting as a formula that finds its row by label, so that sorting Setup changes nothing. */
export function settingReference(sheet: string, key: SettingKey): string {
  const values = columnReference(SETUP, sheet, "Value");
  const labels = columnReference(SETUP, sheet, "Setting");
  return `INDEX(${values},MATCH("${SETTINGS[key].label}",${labels},0))`;
}
