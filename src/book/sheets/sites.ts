import type { Site } from "../records.ts";
import type { CellValue, Sheet } from "../snapshot.ts";
import { type Layout, readRows, textOf } from "./layout.ts";

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
  ],
};

/** Rows of a new Sites sheet. */
export function siteRows(sites: readonly Site[]): CellValue[][] {
  return sites.map((site) => [
    site.numeric ? Number(site.code) : site.code,
    site.name || null,
    site.earlierNames.join("; ") || null,
    site.wipes || null,
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
    }))
    .filter((site) => site.code !== "");
}

function asWritten(value: CellValue | undefined): string {
  return typeof value === "string" ? value : textOf(value);
}
