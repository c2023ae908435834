import type { DateSystem } from "../../core/day.ts";
import { fault } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { hintsIn, type Setting } from "../records/setting.ts";
import {
  eachSetting,
  type NamedKey,
  SETTINGS,
  type SettingKey,
  type Settings,
} from "../records/settings.ts";
import { type CellValue, isCellError, type Sheet, type Snapshot } from "../workbook/snapshot.ts";
import { shownCell } from "./heard.ts";
import {
  columnReference,
  headingColumn,
  type Layout,
  type OurRow,
  readRows,
  textOf,
} from "./layout.ts";

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
const MATCH_LABEL = /^(register|counts|header row|column .+)$/i;

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

/** The settings of a Setup sheet; what is blank keeps its default, what cannot be used is told. */
export function readSettings(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
  defaults: Settings,
): { readonly settings: Settings; readonly problems: readonly Problem[] } {
  const rows = readRows(sheet, SETUP);
  const problems: Problem[] = [];
  const said: Partial<Record<SettingKey, unknown>> = {};
  const doubted = new Set<SettingKey>();
  for (const [key, setting] of eachSetting()) {
    const found = rowsOf(rows, setting);
    const heard = hearSetting(setting, found, dateSystem);
    if (heard.value !== undefined) said[key] = heard.value;
    if (heard.problem === null) continue;
    if (!heard.certain) doubted.add(key);
    const [cause, fix] = heard.problem;
    const row = found.rows.at(-1)?.row ?? null;
    const column = row === null ? null : headingColumn(sheet, "Value");
    const kind = heard.certain ? "number in text" : "unusable cell";
    const place = { sheet: sheet.name, row, column, heading: setting.label };
    problems.push(fault(kind, place, cause, fix));
  }
  // Without a day to look from the time ahead begins today, and no row is judged.
  if (doubted.has("reportDate")) said.reportDate = defaults.reportDate;
  const settings = {
    ...defaults,
    ...(said as Partial<Settings>),
    doubted,
    matches: matchesIn(rows),
  };
  return {
    settings: { ...settings, countsBabies: settings.countsAre === "babies" },
    problems,
  };
}

/** The rows of a setting, and whether formulas find exactly one. */
interface SettingRows {
  readonly rows: readonly OurRow[];
  readonly isFound: boolean;
}

function rowsOf(rows: readonly OurRow[], { label }: Setting<unknown>): SettingRows {
  const wanted = label.toLowerCase();
  const labels = rows.map(({ values }) => values.get("Setting"));
  const standing = labels.filter(
    (one) => typeof one === "string" && one.toLowerCase() === wanted,
  ).length;
  const isClear = labels.every((one) => one === undefined || !isCellError(one));
  return {
    rows: rows.filter((_, at) => textOf(labels[at]).toLowerCase() === wanted),
    isFound: standing === 1 && isClear,
  };
}

interface HeardSetting {
  /** Undefined where the default stays. */
  readonly value?: unknown;
  readonly certain: boolean;
  /** Cause and fix. */
  readonly problem: readonly [string, string] | null;
}

function hearSetting(
  setting: Setting<unknown>,
  { rows, isFound }: SettingRows,
  system: DateSystem,
): HeardSetting {
  const { label, must, take, textMeans, careful, name } = setting;
  const cells = rows.flatMap(({ values }) => values.get("Value") ?? []);
  const taken = cells.map((cell) => take(cell, system));
  const [cell = null] = cells;
  const unusable = (what: string): HeardSetting => {
    const value = careful(cells.flatMap(hintsIn));
    const applies =
      name === NAME_OF_DATE ? "no row can be judged" : `${shownSetting(value)} applies`;
    const cause = `${what}; ${applies}.`;
    return { value, certain: false, problem: [cause, `Type ${must}.`] };
  };
  if (name !== undefined && !isFound) {
    return unusable(`The row ${label} does not stand exactly once in the column Setting`);
  }
  if (new Set(taken).size > 1)
    return unusable(`${label} stands more than once, with different values`);
  if (cells.length === 0) {
    return name === NAME_OF_DATE
      ? unusable("There is no report date")
      : { certain: true, problem: null };
  }
  const [value = null] = taken;
  if (value !== null) return { value, certain: true, problem: null };
  const means = typeof cell === "string" && name === undefined ? textMeans?.(cell) : null;
  if (means === null || means === undefined) return unusable(`${shownCell(cell)} is not ${must}`);
  const cause = `${shownCell(cell)} is text; it must be ${must}. It is read as ${String(means)}.`;
  return { value: means, certain: true, problem: [cause, `Type ${String(means)} as a number.`] };
}

const NAME_OF_DATE = SETTINGS.reportDate.name;

function shownSetting(value: unknown): string {
  if (value === null) return "nothing";
  if (typeof value === "boolean") return value ? "yes" : "no";
  return String(value);
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

/** "Column Last:set" and "column last:SET" are one choice; field keys keep their part in capitals. */
function matchKey(label: string): string {
  return label.toLowerCase().replace(/:([a-z]+)$/, (_, code: string) => `:${code.toUpperCase()}`);
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
  const literal = (one: CellValue): string => (typeof one === "string" ? `"${one}"` : String(one));
  const blank = key === "reportDate" ? "NA()" : literal(cell(usual, dateSystem));
  const read = `IF(SUMPRODUCT(--(${labels}="${label}"))<>1,NA(),IF(${value}="",${blank},${taken(value)}))`;
  return `IFERROR(${read},${literal(cell(careful([]), dateSystem))})`;
}
