import type { Site } from "../records/records.ts";
import type { CellValue, Sheet } from "../workbook/snapshot.ts";
import { amountOf, type Layout, readRows, textOf } from "./layout.ts";

/** The Sites sheet: one row a birthing site. */
export const SITES: Layout = {
  name: "Sites",
  title: "Birthing sites",
  table: "SpareSites",
  about: "the sites, the names they had before and the wipes they use",
  room: 5000,
  columns: [
    { heading: "Code", width: 14, about: "As written in the register." },
    { heading: "Name", width: 30, about: "Full name, if it is not the code." },
    { heading: "Earlier names", width: 34, about: "Names it had before, separated by semicolons." },
    {
      heading: "Wipes",
      width: 16,
      choices: { kind: "list", values: ["alcohol", "alcohol-free"] },
      about: "alcohol or alcohol-free; blank is taken as alcohol, the careful side.",
    },
    { heading: "Ship to", width: 30, about: "Where its parts are delivered." },
    { heading: "Cost centre", width: 14, format: "@", about: "Who pays for its parts." },
    {
      heading: "Births a year",
      width: 14,
      choices: { kind: "number", from: "0", to: "1000000", whole: false },
      about: "For a budget reckoned from births.",
    },
    {
      heading: "Expected uses (a device a month)",
      width: 20,
      choices: { kind: "number", from: "0", to: "1000000", whole: false },
      about: "Your estimate for a site too new to have three months of counts.",
    },
  ],
};

/** A site of which only the code is known. */
export function bareSite(code: string): Site {
  return {
    code,
    numeric: false,
    name: "",
    earlierNames: [],
    wipes: "",
    shipTo: "",
    costCentre: "",
    births: null,
    expectedUses: null,
  };
}

/** Rows of a new Sites sheet. */
export function siteRows(sites: readonly Site[]): CellValue[][] {
  return sites.map((site) => [
    site.numeric ? Number(site.code) : site.code,
    site.name || null,
    site.earlierNames.join("; ") || null,
    site.wipes || null,
    site.shipTo || null,
    site.costCentre || null,
    site.births,
    site.expectedUses,
  ]);
}

/**
 * The sites of a Sites sheet. Code and wipes keep their spaces: formulas compare them as they stand,
 * and a code that matches nothing means the careful side.
 */
export function readSites(sheet: Sheet): Site[] {
  return readRows(sheet, SITES)
    .map(({ values }) => ({
      code: asWritten(values.get("Code")),
      numeric: typeof values.get("Code") === "number",
      name: textOf(values.get("Name")),
      earlierNames: textOf(values.get("Earlier names"))
        .split(";")
        .map((name) => name.trim())
        .filter((name) => name !== ""),
      wipes: asWritten(values.get("Wipes")).toLowerCase(),
      shipTo: textOf(values.get("Ship to")),
      costCentre: textOf(values.get("Cost centre")),
      births: amountOf(values.get("Births a year")),
      expectedUses: amountOf(values.get("Expected uses (a device a month)")),
    }))
    .filter((site) => site.code !== "");
}

function asWritten(value: CellValue | undefined): string {
  return typeof value === "string" ? value : textOf(value);
}
