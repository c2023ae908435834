import { type Day, fromSerial, toSerial } from "../../core/day.ts";
import type { Settings } from "../records/records.ts";
import type { CellValue, Sheet, Snapshot } from "../workbook/snapshot.ts";
import { columnReference, type Layout, readRows, textOf } from "./layout.ts";
import {
  between,
  DEFAULT_ORDERS,
  oneOf,
  readOrders,
  type ReadSetting,
  type SettingKey,
  SETTINGS,
  wholeBetween,
} from "./settings.ts";

/** The Setup sheet: one row a setting. */
export const SETUP: Layout = {
  name: "Setup",
  title: "Setup of this programme",
  table: "SpareSetup",
  about: "the programme's choices; every computed column reads them here",
  room: 100,
  columns: [
    { heading: "Setting", width: 26, about: "What is set; do not rename." },
    {
      heading: "Value",
      width: 24,
      format: ([label]) => (label === SETTINGS.reportDate.label ? "yyyy-mm-dd" : undefined),
      about: "The programme's choice.",
    },
    { heading: "What it means", width: 84, about: "What the setting does." },
  ],
};

/** Rows that remember where the user's sheets and columns are. */
const MATCH_ABOUT = "Remembered choice; change it to point somewhere else.";
const MATCH_LABEL = /^(register|counts|header row|column .+)$/i;

const SHEET_VERSION = 1;

/** The settings a programme starts with. Fourteen days' notice is common practice, no source. */
export function defaultSettings(reportDate: Day): Settings {
  return {
    reportDate,
    noticeDays: 14,
    weekend: 1,
    countsAre: null,
    countsBabies: false,
    rescreenFactor: 1.07,
    zeroCounts: false,
    lateMonths: 2,
    dayOrder: null,
    orders: DEFAULT_ORDERS,
    matches: new Map(),
  };
}

/** Rows of a new Setup sheet. */
export function setupRows(
  settings: Settings,
  snapshot: Pick<Snapshot, "dateSystem">,
): CellValue[][] {
  const values: Readonly<Record<SettingKey, CellValue>> = {
    reportDate: toSerial(settings.reportDate, snapshot.dateSystem),
    noticeDays: settings.noticeDays,
    weekend: settings.weekend,
    countsAre: settings.countsAre,
    rescreenFactor: settings.rescreenFactor,
    zeroCounts: settings.zeroCounts ? "yes" : "no",
    lateMonths: settings.lateMonths,
    dayOrder: settings.dayOrder,
    ...settings.orders,
    version: SHEET_VERSION,
  };
  return [
    ...Object.entries(SETTINGS).map(([key, { label, about }]) => [
      label,
      values[key as SettingKey],
      about,
    ]),
    ...[...settings.matches].map(([key, value]) => [matchLabel(key), value, MATCH_ABOUT]),
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

/** The settings of a Setup sheet; what is missing or unusable keeps its default and is told. */
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
  const read: ReadSetting = (key, usual, take) => {
    const row = byLabel.get(SETTINGS[key].label.toLowerCase());
    const value = row?.values.get("Value") ?? null;
    if (row === undefined || value === null) return usual;
    const taken = take(value);
    if (taken === null) faults.push({ row: row.row, label: SETTINGS[key].label });
    return taken ?? usual;
  };
  const matches = new Map<string, string>();
  for (const { values } of rows) {
    const label = textOf(values.get("Setting"));
    const value = textOf(values.get("Value"));
    if (MATCH_LABEL.test(label) && value !== "") matches.set(keyOf(label), value);
  }
  const countsAre = read("countsAre", defaults.countsAre, oneOf("sessions", "babies"));
  const settings: Settings = {
    reportDate: read("reportDate", defaults.reportDate, (value) =>
      typeof value === "number" ? fromSerial(value, dateSystem) : null,
    ),
    noticeDays: read("noticeDays", defaults.noticeDays, wholeBetween(0, 3660)),
    weekend: read("weekend", defaults.weekend, weekendCode),
    countsAre,
    countsBabies: countsAre === "babies",
    rescreenFactor: read("rescreenFactor", defaults.rescreenFactor, between(1, 1000)),
    zeroCounts:
      read("zeroCounts", defaults.zeroCounts ? "yes" : "no", oneOf("yes", "no")) === "yes",
    lateMonths: read("lateMonths", defaults.lateMonths, wholeBetween(0, 120)),
    dayOrder: read("dayOrder", defaults.dayOrder, oneOf("dmy", "mdy")),
    orders: readOrders(read),
    matches,
  };
  return { settings, faults };
}

/** A setting whose value cannot be used; its default is used instead. */
export interface SettingFault {
  readonly row: number;
  readonly label: string;
}

/** "Column Last:set" and "column last:SET" are one choice; field keys keep their part in capitals. */
function keyOf(label: string): string {
  return label.toLowerCase().replace(/:([a-z]+)$/, (_, code: string) => `:${code.toUpperCase()}`);
}

function weekendCode(value: CellValue): number | string | null {
  if (typeof value === "string") return /^(?!1{7})[01]{7}$/.test(value) ? value : null;
  const isCode =
    typeof value === "number" &&
    Number.isInteger(value) &&
    ((value >= 1 && value <= 7) || (value >= 11 && value <= 17));
  return isCode ? value : null;
}

/** A setting as a formula that finds its row by label, so that sorting Setup changes nothing. */
export function settingReference(sheet: string, key: SettingKey): string {
  const values = columnReference(SETUP, sheet, "Value");
  const labels = columnReference(SETUP, sheet, "Setting");
  return `INDEX(${values},MATCH("${SETTINGS[key].label}",${labels},0))`;
}
