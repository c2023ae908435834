import {
  type CellPlace,
  counted,
  listed,
  mendable,
  notice,
  wholeSheet,
} from "../../records/problems.ts";
import type { ProblemKind } from "../../records/problem-kinds.ts";
import type { Problem } from "../../records/records.ts";
import { quoted } from "../../workbook/cells.ts";

/** Reading a register only takes down what is told of its rows and sites; the words are here, for they come later. */

/** A text alone in its row. */
interface Title {
  readonly row: number;
  readonly text: string;
}

const NAMED = 10;
const NOTHING = "Nothing needs to be done.";

const wholeRow = (sheet: string, row: number): CellPlace => ({
  ...{ sheet, row, column: null, heading: "" },
});

function leftOut(
  sheet: string,
  row: number,
  [kind, about]: readonly [ProblemKind, string],
): Problem {
  return notice(kind, wholeRow(sheet, row), `Row ${row + 1} ${about}; it is left out.`, NOTHING);
}

/** A state that stands as a title says something of the rows below, but not of how many: they stay in service. */
function stateAlone(sheet: string, row: number, text: string): Problem {
  return notice(
    "unknown status",
    wholeRow(sheet, row),
    `${quoted(text)} stands alone in row ${row + 1}, as a title of the rows below; the devices there count as in service.`,
    "Beside each device that has left write Retired under a heading Status, and the date under Retired on.",
  );
}

function sitesTaken(
  sheet: string,
  titles: readonly Title[],
  devices: ReadonlyMap<string, number>,
): Problem {
  const each = titles.map(
    ({ row, text }) =>
      `${quoted(text)} (row ${row + 1}, ${counted(devices.get(text) ?? 0, "device")})`,
  );
  return notice(
    "site titles",
    { ...wholeSheet(sheet), row: titles[0]?.row ?? null },
    `No column holds the site, so it is taken from the titles above the devices: ${listed(each, NAMED)}.`,
    `${NOTHING.slice(0, -1)}; a column Site beside each device would keep it when rows are sorted, and let the wipes of a site count.`,
  );
}

function sitesAsked(sheet: string, titles: readonly Title[]): Problem {
  const texts = titles.map(({ text }) => quoted(text));
  return notice(
    "site missing",
    { ...wholeSheet(sheet), row: titles[0]?.row ?? null },
    `${texts.slice(0, 3).join(", ")} ${texts.length > 3 ? "and others " : ""}stand alone above rows of devices, as names of sites do, and no column holds the site.`,
    "Add a column Site with the name beside each device; the answers of a site need it.",
  );
}

function sitesMerged(
  place: CellPlace,
  areas: readonly { readonly site: string; readonly first: number; readonly last: number }[],
): Problem {
  const told = areas.map(
    ({ site, first, last }) => `${quoted(site)} (rows ${first + 1} to ${last + 1})`,
  );
  return notice(
    "merged sites",
    place,
    `Sites are merged over the rows of several devices, and count for each of them, but a site's wipes do not: ${listed(told, NAMED)}.`,
    `${NOTHING} With the site typed in each row, rows can be sorted and the site's wipes count.`,
  );
}

function siteAbove(place: CellPlace, own: string, above: string): Problem {
  const told = notice(
    "site above",
    place,
    `${quoted(own)} stands for the cell above, ${above === "" ? "which is blank" : quoted(above)}; the site's wipes do not count for it.`,
    "Type the site in each row, so that rows can be sorted.",
  );
  return above === "" ? told : mendable(told, /^\d+$/.test(above) ? Number(above) : above);
}

const FAULTS = { leftOut, stateAlone, sitesTaken, sitesAsked, sitesMerged, siteAbove };
type Faults = typeof FAULTS;

/** Something to tell of rows and sites, by the name of the function above that says it, with what it says. */
export type RowNote = {
  [Name in keyof Faults]: readonly [Name, ...Parameters<Faults[Name]>];
}[keyof Faults];

/** A note in words. */
export function toldOfRow([name, ...said]: RowNote): Problem {
  const tell = FAULTS[name] as (...all: typeof said) => Problem;
  return tell(...said);
}
