import type { HeadingRows } from "../../headings/headings.ts";
import type { Site } from "../../records/records.ts";
import { saysRetired } from "../../records/retired-words.ts";
import { siteByCode, siteKey, siteOf } from "../../records/site-names.ts";
import { isBlank, type Page, textOf } from "../../workbook/cells.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import type { RowNote } from "./row-faults.ts";
import { REPEATED, type SortedRows } from "./rows.ts";
import { saysServing } from "../../records/serving-words.ts";

/** What titles of blocks say of a register without a column for the site. */
export interface BlockSites {
  /** The site of each row below a title; empty where none is taken. */
  readonly byRow: ReadonlyMap<number, string>;
  /** Rows of titles that are taken: they are no devices. */
  readonly titles: readonly number[];
  readonly notes: readonly RowNote[];
}

interface Blocks {
  readonly page: Page;
  readonly heading: HeadingRows;
  readonly columns: ReadonlyMap<string, number>;
  readonly sorted: SortedRows;
  readonly sites: readonly Site[];
  /** Whether a text says "site" and nothing more. */
  readonly isLabel: (text: string) => boolean;
}

/** A text alone in its row above a block of devices. */
interface Title {
  readonly row: number;
  readonly text: string;
  /** It says itself that it is a site: "Site: Northfield". */
  readonly labelled: boolean;
  /** The headings stand below it once more. */
  readonly headed: boolean;
  readonly merged: boolean;
}

const NONE: BlockSites = { byRow: new Map(), titles: [], notes: [] };
/** A title has more words hardly ever; a note has. */
const MOST_WORDS = 6;

/**
 * Texts alone in their row above blocks of devices, where no column holds the sites. They are taken where all
 * of them surely are sites' names; else they are told, for a group may be a model or a year. The formulas read
 * a device's site in its own row, so that no interval follows from a title.
 */
export function blockSites(blocks: Blocks): BlockSites {
  if (blocks.columns.has("site")) return NONE;
  const titles = titlesOf(blocks);
  if (titles.length < 2) return NONE;
  const { name } = blocks.page.sheet;
  if (!areSites(titles, blocks)) return { ...NONE, notes: [["sitesAsked", name, titles]] };
  const taken = new Set(titles.map(({ row }) => row));
  const byRow = new Map<number, string>();
  const devices = new Map<string, number>();
  for (const row of blocks.sorted.rows) {
    const site = titles.filter((title) => title.row < row).at(-1)?.text;
    if (site === undefined || taken.has(row)) continue;
    byRow.set(row, site);
    devices.set(site, (devices.get(site) ?? 0) + 1);
  }
  return { byRow, titles: [...taken], notes: [["sitesTaken", name, titles, devices]] };
}

function titlesOf({ page, heading, sorted, isLabel }: Blocks): Title[] {
  const { values, merges } = page.sheet;
  const isDevice = new Set(sorted.rows.filter((row) => filled(values[row]) > 1));
  const passed = new Map(sorted.leftOut.map(({ row, reason }) => [row, reason]));
  const across = new Set(
    merges.filter((area) => area.lastColumn > area.firstColumn).map((area) => area.firstRow),
  );
  const isHeading = (row: number): boolean => row >= heading.first && row <= heading.last;
  return values.flatMap((cells, row): Title[] => {
    if (isHeading(row) || filled(cells) !== 1) return [];
    let next = row + 1;
    let headed = false;
    for (; isHeading(next) || ["blank", REPEATED].includes(passed.get(next) ?? ""); next += 1) {
      headed ||= isHeading(next) || passed.get(next) === REPEATED;
    }
    if (!isDevice.has(next)) return [];
    const [label = "", ...rest] = lone(cells).split(":");
    const labelled = rest.length > 0 && isLabel(label.trim());
    const text = labelled ? rest.join(":").trim() : lone(cells);
    return [{ row, text, headed, labelled, merged: across.has(row) }];
  });
}

/** Whether each title surely is a site's name, and each device stands below one. */
function areSites(titles: readonly Title[], { page, columns, sorted, sites }: Blocks): boolean {
  const [first] = titles;
  const above = sorted.rows[0] ?? 0;
  if (first === undefined || (first.row > above && !isTitle(titles, above))) return false;
  if (new Set(titles.map(({ text }) => siteKey(text))).size < titles.length) return false;
  const isKnown = ({ text }: Title): boolean =>
    siteByCode(sites, siteOf(sites, text)) !== undefined;
  if (sites.length > 0) return titles.every(isKnown);
  // A title of the sheet stands above the headings too, and above no others.
  const isAlike = titles.every(({ headed }) => headed) || titles.every(({ headed }) => !headed);
  const device = columns.get("device") ?? 0;
  const ids = sorted.rows
    .filter((row) => !isTitle(titles, row))
    .map((row) => textOf(page.sheet.values[row]?.[device] ?? null));
  const hasDigit = (text: string): boolean => /\d/.test(text);
  const isNoDevice = ({ text, headed, labelled, merged }: Title): boolean =>
    headed || labelled || merged || (!hasDigit(text) && ids.every(hasDigit));
  return isAlike && titles.every((title) => isName(title) && isNoDevice(title));
}

function isTitle(titles: readonly Title[], row: number): boolean {
  return titles.some((title) => title.row === row);
}

/** Words that may name a place: no year, no sentence, no state of devices. */
function isName({ text, labelled }: Title): boolean {
  if (labelled) return text !== "";
  const words = text.split(/\s+/);
  return (
    /\p{L}{2}/u.test(text) &&
    !/[.?!;]$/.test(text) &&
    words.length <= MOST_WORDS &&
    ![text, ...words].some((one) => saysRetired(one) || saysServing(one))
  );
}

function filled(cells: readonly CellValue[] | undefined): number {
  return (cells ?? []).filter((value) => !isBlank(value)).length;
}

function lone(cells: readonly CellValue[]): string {
  return textOf(cells.find((value) => !isBlank(value)) ?? null);
}
