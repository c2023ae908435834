import { endsLife } from "../../core/due.ts";
import { workTokens } from "../headings/work-tokens.ts";
import type { WorkSense } from "../languages/language.ts";
import { isBlank, quoted, textOf } from "../workbook/cells.ts";
import { textCount } from "./counts/count-faults.ts";
import { countsUses } from "./counts/count-units.ts";
import { cellError } from "./dates/date-columns.ts";
import type { Named } from "./devices/devices.ts";
import {
  type CellPlace,
  fault,
  listed,
  mendable,
  notice,
  wholeSheet,
} from "../records/problems.ts";
import { remembering } from "../records/remembering.ts";
import type { Ours, Problem, Site } from "../records/records.ts";
import { findingText, isKnownFinding } from "../records/finding-words.ts";
import { FINDINGS } from "../sheets/job-log.ts";
import type { Found } from "./register/register.ts";
import { siteByCode, siteKey, siteOf } from "../records/site-names.ts";
import { cellKey, type CellValue, isCellError } from "../workbook/snapshot.ts";

/** Fields whose cells are read as dates, with their errors told there. */
const DATED = /^(?:commissioned$|retiredOn$|last:|due:|every:)/;
const ENOUGH_FORMULAS = 5;
const MOSTLY = 0.8;

/** Cell errors in the columns that are used, and faults of the uses column and of findings. */
export function valueFaults(found: Found, devices: readonly Named[]): Problem[] {
  const { page, register } = found;
  const problems: Problem[] = [];
  for (const { field, column, heading } of register.matches) {
    if (DATED.test(field)) continue;
    const isFinding = field.startsWith("finding:");
    const place = (row: number): CellPlace => ({ sheet: page.sheet.name, row, column, heading });
    // Most devices have the same few findings, of which there is nothing to tell.
    const isTold = remembering((value: CellValue): boolean => {
      return findingFaults(place(0), findingText(value)).length > 0;
    });
    for (const { row, retired } of devices) {
      const value = page.sheet.values[row]?.[column] ?? null;
      if (isCellError(value)) problems.push(cellError(place(row), value.error));
      else if (field === "uses" && !retired && !isBlank(value)) {
        problems.push(...usesFault(value, place(row)));
      } else if (isFinding && !retired && isTold(value))
        problems.push(...findingFaults(place(row), findingText(value)));
    }
  }
  return problems;
}

/** What is told of a finding: a word nobody knows, or one of damage among others that may take it back. */
export function findingFaults(place: CellPlace, finding: string): Problem[] {
  if (!isKnownFinding(finding)) return [unknownFinding(place, finding)];
  if (!endsLife(finding) || !takesBack(finding)) return [];
  const cause = `${quoted(finding)} holds a word of damage, so it counts as damage.`;
  const fix = "If the part is good, write clean; else write what was found alone.";
  return [notice("unknown finding", place, cause, fix)];
}

/** What may take back a word of damage: "no crack", "clean (crack closed)", "crack - replaced". */
function takesBack(finding: string): boolean {
  return workTokens(finding, () => false).some(({ senses }) =>
    senses.some((sense) => BACK.has(sense)),
  );
}

const BACK: ReadonlySet<WorkSense> = new Set<WorkSense>([
  ...(["no", "nothing", "clean", "replaced"] as const),
]);

/** A word nobody knows in a finding: it counts as damage, and says how to settle it. */
function unknownFinding(place: CellPlace, finding: string): Problem {
  const cause = `${quoted(finding)} is not a known finding; it counts as damage until this is settled.`;
  const words = `${FINDINGS.slice(0, -1).join(", ")} or ${FINDINGS.at(-1) ?? ""}`;
  const fix = `Write ${words}; clean and other leave the part in use.`;
  return fault("unknown finding", place, cause, fix);
}

/** Blank cells of a uses column that others fill: where nothing else counts a device, its shortest interval applies. */
export function usesMissing({ page, register }: Found, devices: readonly Named[]): Problem[] {
  const uses = register.matches.find(({ field }) => field === "uses");
  if (uses === undefined || !countsUses(uses)) return [];
  const inUse = devices.filter(({ retired }) => !retired);
  const { column, heading } = uses;
  const blank = inUse.filter(({ row }) => isBlank(page.sheet.values[row]?.[column] ?? null));
  // A column that hardly anyone fills says nothing of one cell.
  if (blank.length * 2 > inUse.length) return [];
  return blank.map(({ row, id }) => {
    const place = { sheet: page.sheet.name, row, column, heading };
    const cause = `${id} has no uses a month; its shortest interval applies.`;
    return fault("count missing", place, cause, "Type the uses a month.");
  });
}

function usesFault(value: CellValue, place: CellPlace): Problem[] {
  if (typeof value !== "number") return [textCount(place, textOf(value))];
  if (value >= 0) return [];
  return [fault("count below zero", place, `${value} is below zero.`, "Type the uses a month.")];
}

/** Sites that the Sites sheet does not know, or knows under another name by now. */
export function siteFaults(found: Found, devices: readonly Named[], ours: Ours): Problem[] {
  if (ours.sites.length === 0) return [];
  const column = found.columns.get("site");
  if (column === undefined) return sheetSiteFault(found, ours);
  const known = new Set(ours.sites.flatMap(({ code, name }) => [siteKey(code), siteKey(name)]));
  const earlier = new Map<string, Site>();
  for (const site of ours.sites) {
    for (const name of site.earlierNames) earlier.set(siteKey(name), site);
  }
  const heading = found.register.headings[column] ?? "";
  return devices.flatMap(({ row, site }) => {
    const key = siteKey(site);
    if (key === "" || known.has(key)) return [];
    const place = { sheet: found.page.sheet.name, row, column, heading };
    const now = earlier.get(key);
    if (now !== undefined) {
      const cause = `${quoted(site)} is an earlier name of ${now.code}.`;
      const told = fault("earlier site name", place, cause, `Write ${now.code}.`);
      return [mendable(told, now.numeric ? Number(now.code) : now.code)];
    }
    const cause = `${quoted(site)} is not on the Sites sheet.`;
    return [
      fault("unknown site", place, cause, "Write a site's code or name, or add the site there."),
    ];
  });
}

/** The site that a sheet's title or name gives all its devices. */
function sheetSiteFault({ page, site }: Found, { sites }: Ours): Problem[] {
  const code = siteOf(sites, site);
  if (site === "" || siteByCode(sites, code) !== undefined) return [];
  const { name } = page.sheet;
  const cause = `${quoted(site)}, the site that the sheet's title or name says, is not on the Sites sheet.`;
  const fix = "Add the site there, or give the sheet a column Site.";
  return [fault("unknown site", wholeSheet(name), cause, fix)];
}

/** Devices without a site beside a column of sites; where most have none, the column is told. */
export function siteless(found: Found, devices: readonly Named[]): Problem[] {
  const column = found.columns.get("site");
  const without = devices.filter(({ site, retired }) => site === "" && !retired);
  // A column that nobody fills asks nothing.
  const isUsed = devices.some(({ site }) => site !== "");
  if (column === undefined || !isUsed) return [];
  const heading = found.register.headings[column] ?? "";
  if (without.length * 2 > devices.length) {
    const place = { sheet: found.page.sheet.name, row: null, column, heading };
    const cause = `${without.length} of ${devices.length} devices have no site, such as ${listed(without.map(({ id }) => id))}.`;
    const fix = "Write the site in each row, below a site that stands for several rows too.";
    return [fault("site missing", place, cause, fix)];
  }
  return without.map(({ row, id }) => {
    const place = { sheet: found.page.sheet.name, row, column, heading };
    return fault("site missing", place, `${id} has no site.`, "Write its site.");
  });
}

/** Constants in a column that otherwise holds formulas: one was typed over. */
export function overwrittenFormulas(found: Found): Problem[] {
  const { page, register } = found;
  const { sheet } = page;
  const problems: Problem[] = [];
  for (const column of formulaColumns(found)) {
    const heading = register.headings[column] ?? "";
    for (const row of register.rows) {
      const value = sheet.values[row]?.[column] ?? null;
      if (isBlank(value) || sheet.formulas.has(cellKey(row, column))) continue;
      const place = { sheet: sheet.name, row, column, heading };
      const cause = "A value was typed over the formula the rest of the column has.";
      const fix = "Copy the formula from a neighbouring row.";
      problems.push(fault("overwritten formula", place, cause, fix));
    }
  }
  return problems;
}

/** Columns of the register that hold formulas in most device rows, and not in all. */
function formulaColumns({ page, register }: Found): number[] {
  const { formulas } = page.sheet;
  if (formulas.size < ENOUGH_FORMULAS) return [];
  const inRows = new Set(register.rows);
  const perColumn = new Map<number, number>();
  const columnsInRow = cellKey(1, 0);
  for (const key of formulas.keys()) {
    if (!inRows.has(Math.floor(key / columnsInRow))) continue;
    const column = key % columnsInRow;
    perColumn.set(column, (perColumn.get(column) ?? 0) + 1);
  }
  return [...perColumn]
    .filter(([column, count]) => {
      const share = count / register.rows.length;
      const inTable = column < register.headings.length;
      return inTable && count >= ENOUGH_FORMULAS && share >= MOSTLY && share < 1;
    })
    .map(([column]) => column);
}
