import type { DateSystem } from "../../core/day.ts";
import { isOfOwnLog } from "../records/own-log.ts";
import { fault } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { hintsIn, type Setting } from "../records/setting.ts";
import { eachSetting, SETTINGS, type SettingKey, type Settings } from "../records/settings.ts";
import { cellKey, type Sheet, type Snapshot } from "../workbook/snapshot.ts";
import { shownCell } from "./heard.ts";
import { lostHeading, lostHeadings } from "./lost-headings.ts";
import { headingColumn, textOf } from "./layout.ts";
import { type OurRow, readRows } from "./our-rows.ts";
import { SETUP } from "./setup.ts";

/** Rows that remember where the user's sheets and columns are. */
const MATCH_LABEL = /^(register( \d+)?|counts|header row|column .+)$/i;

/** The settings of a Setup sheet; what is blank keeps its default, what cannot be used is told. */
export function readSettings(
  sheet: Sheet,
  dateSystem: Snapshot["dateSystem"],
  defaults: Settings,
): { readonly settings: Settings; readonly problems: readonly Problem[] } {
  const rows = readRows(sheet, SETUP);
  const problems = lostHeadings(sheet, SETUP)
    // What a setting means is told by its row.
    .filter(({ heading }) => heading !== SETUP.columns.at(-1)?.heading)
    .map(({ heading }) => lostHeading(sheet, heading));
  const said: Partial<Record<SettingKey, unknown>> = {};
  const doubted = new Set<SettingKey>();
  for (const [key, setting] of eachSetting()) {
    const found = rowsOf(sheet, rows, setting);
    // Of babies nobody knows the uses without it, and it never stands blank from the start.
    const needed = key === "rescreenFactor" && said.countsAre === "babies";
    const heard = hearSetting(setting, { ...found, needed }, dateSystem);
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

/** The rows of a setting, whether it is found as it must be, and whether a formula of one has no result. */
interface SettingRows {
  readonly rows: readonly OurRow[];
  readonly isFound: boolean;
  readonly isOpen: boolean;
}

function rowsOf(
  sheet: Sheet,
  all: readonly OurRow[],
  { label, name, later }: Setting<unknown>,
): SettingRows {
  const wanted = label.toLowerCase();
  const labels = all.map(({ values }) => values.get("Setting"));
  const rows = all.filter((_, at) => textOf(labels[at]).toLowerCase() === wanted);
  const column = headingColumn(sheet, "Value");
  return {
    rows,
    isFound:
      name === undefined
        ? later === true || rows.length > 0
        : // Formulas find a row by its very label.
          labels.filter((one) => typeof one === "string" && one.toLowerCase() === wanted).length ===
          1,
    isOpen:
      column !== null &&
      rows.some(
        ({ row, values }) => !values.has("Value") && sheet.formulas.has(cellKey(row, column)),
      ),
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
  { rows, isFound, isOpen, needed }: SettingRows & { readonly needed: boolean },
  system: DateSystem,
): HeardSetting {
  const { label, must, take, textMeans, careful, name } = setting;
  const cells = rows.flatMap(({ values }) => values.get("Value") ?? []);
  const taken = cells.map((cell) => take(cell, system));
  const [cell = null] = cells;
  const unusable = (what: string, fix = `Type ${must}.`): HeardSetting => {
    const value = careful(cells.flatMap(hintsIn));
    const applies =
      name === NAME_OF_DATE ? "no row can be judged" : `${shownSetting(value)} applies`;
    const cause = `${what}; ${applies}.`;
    return { value, certain: false, problem: [cause, fix] };
  };
  if (!isFound) {
    const cause = `The row ${label} does not stand exactly once in the column Setting`;
    return unusable(cause, `Let one row have this name, and beside it ${must}.`);
  }
  if (new Set(taken).size > 1)
    return unusable(`${label} stands more than once, with different values`);
  if (isOpen) return unusable(`The formula of ${label} has no result`);
  if (cells.length === 0) {
    if (needed) return unusable(`${label} is blank`);
    return name === NAME_OF_DATE
      ? unusable("There is no report date")
      : { certain: true, problem: null };
  }
  const [value = null] = taken;
  if (value !== null) return { value, certain: true, problem: null };
  const means = typeof cell === "string" && name === undefined ? textMeans?.(cell) : null;
  if (means === null || means === undefined) return unusable(`${shownCell(cell)} is not ${must}`);
  const said = shownSetting(means);
  const cause = `${shownCell(cell)} is text; it must be ${must}. It is read as ${said}.`;
  return { value: means, certain: true, problem: [cause, `Type ${said} as a number.`] };
}

const NAME_OF_DATE = SETTINGS.reportDate.name;

function shownSetting(value: unknown): string {
  if (value === null) return "nothing";
  if (typeof value === "boolean") return value ? "yes" : "no";
  return typeof value === "number" || typeof value === "string" ? String(value) : "its default";
}

/** Whether a row of Setup remembers a choice of sheets, columns or words. */
export function isRemembered(label: string): boolean {
  return MATCH_LABEL.test(label) || isOfOwnLog(label);
}

/** Where the user's sheets and columns were said to be. */
function matchesIn(rows: readonly OurRow[]): ReadonlyMap<string, string> {
  const matches = new Map<string, string>();
  for (const { values } of rows) {
    const label = textOf(values.get("Setting"));
    const value = textOf(values.get("Value"));
    if (isRemembered(label) && value !== "") matches.set(matchKey(label), value);
  }
  return matches;
}

/** "Column Last:set" and "column last:SET" are one choice; field keys keep their part in capitals. */
function matchKey(label: string): string {
  return label.toLowerCase().replace(/:([a-z]+)$/, (_, code: string) => `:${code.toUpperCase()}`);
}
