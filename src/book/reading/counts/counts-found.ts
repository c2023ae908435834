import { titlesOf } from "../../headings/around.ts";
import { mayBePart, saysOf } from "../../headings/other-counts.ts";
import { isLastDone } from "../../records/positions.ts";
import type { Ours } from "../../records/records.ts";
import { keyOf, type Page } from "../../workbook/cells.ts";
import type { SheetNote } from "./count-faults.ts";
import { countSheetsIn } from "./count-blocks.ts";
import { type CountSheet, countsBeside } from "./count-sheets.ts";
import { withoutMarked } from "./month-marks.ts";
import type { Found } from "../register/register.ts";

interface Beside {
  readonly isDevice: (key: string) => boolean;
  readonly ours: Ours;
  /** Whether a word stands in the name of a site. */
  readonly isSite: (word: string) => boolean;
}

/** A sheet of devices and months whose numbers are not taken for uses, and the text over them that is why. */
export interface OtherCounts {
  readonly sheet: CountSheet;
  readonly text: string;
}

/** The sheets of counts, with those whose numbers may be others. */
export interface SheetsOfCounts {
  readonly found: readonly CountSheet[];
  readonly others: readonly OtherCounts[];
  /** Sheets that are neither; none where a person said which sheet holds the counts, or another one does. */
  readonly unlike: readonly Page[];
  readonly notes: readonly SheetNote[];
}

/** The sheets of counts: the one that was chosen, else every sheet that is one, else the registers themselves. */
export function countSheets(
  pages: readonly Page[],
  founds: readonly Found[],
  { isDevice, ours, isSite }: Beside,
): SheetsOfCounts {
  const said = keyOf(ours.settings.matches.get("counts") ?? "");
  if (said === "none") return NONE;
  const beneath = founds.flatMap(({ page, heading, columns }) => {
    const lastRow = page.sheet.values.length - 1;
    return countsBeside({ page, heading, lastRow, device: columns.get("device") ?? 0 }) ?? [];
  });
  const { found: own, notes: ofOwn } = withoutMarked(beneath);
  const registers = new Set(founds.map(({ page }) => page));
  if (said === "") {
    const others = pages.filter((page) => !registers.has(page));
    const all = others.flatMap((page) => countSheetsIn(page, isDevice, false));
    const { found: alike, notes: ofAlike } = withoutMarked(all);
    // Beside dates of parts the title speaks of those; without them of the numbers.
    const bare = founds.filter(({ columns }) => ![...columns.keys()].some(isLastDone));
    const isBare = ({ page }: CountSheet): boolean => bare.some((found) => found.page === page);
    const { uses, others: passed } = usesAmong([...alike, ...own.filter(isBare)], isSite);
    const beside = uses.filter(isBare);
    const sheets = uses.filter((one) => !isBare(one));
    const found =
      sheets.length > 0 ? sheets : own.filter((one) => !isBare(one) || beside.includes(one));
    return {
      ...NONE,
      found,
      others: passed,
      unlike: found.length > 0 ? [] : unlike(others, all),
      notes: [...ofOwn, ...ofAlike],
    };
  }
  const page = pages.find(({ sheet }) => keyOf(sheet.name) === said);
  if (page !== undefined && registers.has(page)) {
    const here = own.filter((one) => one.page === page);
    return { ...NONE, found: here, notes: here.length > 0 ? [] : [...ofOwn, ["noCounts", said]] };
  }
  const chosen = page === undefined ? [] : countSheetsIn(page, isDevice, true);
  return chosen.length === 0 || chosen.some(({ unclear }) => unclear !== undefined)
    ? { ...NONE, notes: [["noCounts", said]] }
    : { ...NONE, ...withoutMarked(chosen) };
}

/** Sheets that are not used, and may hold a part of the uses. */
export function partsAmong(others: readonly OtherCounts[]): CountSheet[] {
  return others.flatMap(({ sheet, text }) => (mayBePart(text) ? sheet : []));
}

const NONE: SheetsOfCounts = { found: [], others: [], unlike: [], notes: [] };

/**
 * The sheets whose numbers are uses: what stands over them says so, or says nothing at all. Parts used up, plans or means of
 * a week, taken for uses, would be too few, and an interval too long.
 */
function usesAmong(
  sheets: readonly CountSheet[],
  isSite: (word: string) => boolean,
): { readonly uses: readonly CountSheet[]; readonly others: readonly OtherCounts[] } {
  const uses: CountSheet[] = [];
  const others: OtherCounts[] = [];
  for (const sheet of sheets) {
    const text = saidOfOthers(sheet, isSite);
    if (sheet.unclear === undefined && text === null) uses.push(sheet);
    else others.push({ sheet, text: text ?? "" });
  }
  return { uses, others };
}

/** The text over the numbers that says that they are of something else, or that says neither; null where they are uses. */
function saidOfOthers(one: CountSheet, isSite: (word: string) => boolean): string | null {
  const over = one.shape === "wide" ? one.over : [one.heading.texts[one.count] ?? ""];
  const texts = [...titlesOf(one.page, one.heading), ...over];
  const said = texts.map((text) => saysOf(text, isSite));
  const at = said.includes("other") || said.includes("uses") ? "other" : "unknown";
  return texts[said.indexOf(at)] ?? null;
}

function unlike(pages: readonly Page[], sheets: readonly CountSheet[]): Page[] {
  return pages.filter((page) => !sheets.some((one) => one.page === page));
}
