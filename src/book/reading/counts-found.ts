import { isLastDone } from "../records/positions.ts";
import { fault, wholeSheet } from "../records/problems.ts";
import type { Ours, Problem } from "../records/records.ts";
import { keyOf, type Page } from "../workbook/cells.ts";
import { type CountSheet, countsBeside, countSheetIn } from "./count-sheets.ts";
import { withoutMarked } from "./month-marks.ts";
import { countsOfOthers, passedCounts } from "./passed-counts.ts";
import type { Found } from "./register.ts";

interface Beside {
  readonly isDevice: (key: string) => boolean;
  readonly ours: Ours;
}

interface SheetsFound {
  readonly found: readonly CountSheet[];
  readonly problems: readonly Problem[];
}

/** The sheets of counts: the one that was chosen, else every sheet that is one, else the registers themselves. */
export function countSheets(
  pages: readonly Page[],
  founds: readonly Found[],
  beside: Beside,
): SheetsFound {
  const { found, problems } = likeCounts(pages, founds, beside);
  const counted = withoutMarked(found);
  return { found: counted.found, problems: [...problems, ...counted.problems] };
}

function likeCounts(
  pages: readonly Page[],
  founds: readonly Found[],
  { isDevice, ours }: Beside,
): SheetsFound {
  const said = keyOf(ours.settings.matches.get("counts") ?? "");
  if (said === "none") return { found: [], problems: [] };
  const own = founds.flatMap(({ page, heading, columns }) => {
    const lastRow = page.sheet.values.length - 1;
    return countsBeside({ page, heading, lastRow, device: columns.get("device") ?? 0 }) ?? [];
  });
  const registers = new Set(founds.map(({ page }) => page));
  if (said === "") {
    const others = pages.filter((page) => !registers.has(page));
    const alike = others.flatMap((page) => countSheetIn(page, isDevice, false) ?? []);
    // Beside dates of parts the title speaks of those; without them of the numbers.
    const bare = founds.filter(({ columns }) => ![...columns.keys()].some(isLastDone));
    const isBare = ({ page }: CountSheet): boolean => bare.some((found) => found.page === page);
    const { uses, problems } = countsOfOthers([...alike, ...own.filter(isBare)]);
    const beside = uses.filter(isBare);
    const sheets = uses.filter((one) => !isBare(one));
    const found =
      sheets.length > 0 ? sheets : own.filter((one) => !isBare(one) || beside.includes(one));
    const passed = found.length > 0 ? [] : passedCounts(unlike(others, alike), isDevice);
    return { found, problems: [...problems, ...passed] };
  }
  const page = pages.find(({ sheet }) => keyOf(sheet.name) === said);
  if (page !== undefined && registers.has(page)) {
    const here = own.filter((one) => one.page === page);
    return { found: here, problems: here.length > 0 ? [] : [noCounts(said)] };
  }
  const sheet = page === undefined ? null : countSheetIn(page, isDevice, true);
  return sheet === null
    ? { found: [], problems: [noCounts(said)] }
    : { found: [sheet], problems: [] };
}

function noCounts(name: string): Problem {
  return fault(
    "counts not found",
    wholeSheet(name),
    `The counts were set to the sheet ${name}, but no counts can be read there.`,
    'Correct the sheet name in Setup; "none" means that there are no counts.',
  );
}

function unlike(pages: readonly Page[], sheets: readonly CountSheet[]): Page[] {
  return pages.filter((page) => !sheets.some((one) => one.page === page));
}
