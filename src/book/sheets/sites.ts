import type { Site } from "../records/records.ts";
import type { CellValue, Sheet } from "../workbook/snapshot.ts";
import { amount, cellsOf, columnsIn, type InputColumns, recordIn, text } from "./column.ts";
import { type Layout, readRows, textOf } from "./layout.ts";

/** Uses, births: any number from 0. */
const AMOUNT = { kind: "number", from: "0", to: "1000000", whole: false } as const;

/** A code keeps its spaces and its type: formulas compare it as it stands. */
type Code = Pick<Site, "code" | "numeric">;

const SITE_COLUMNS: InputColumns<Omit<Site, keyof Code> & { readonly code: Code }> = {
  code: {
    heading: "Code",
    width: 14,
    about: "As written in the register.",
    read: (value) => ({ code: asWritten(value), numeric: typeof value === "number" }),
    cell: ({ code, numeric }) => (numeric ? Number(code) : code),
  },
  name: text({ heading: "Name", width: 30, about: "Full name, if it is not the code." }),
  earlierNames: {
    heading: "Earlier names",
    width: 34,
    about: "Names it had before, separated by semicolons.",
    read: (value) =>
      textOf(value)
        .split(";")
        .map((name) => name.trim())
        .filter((name) => name !== ""),
    cell: (names) => names.join("; ") || null,
  },
  wipes: {
    heading: "Wipes",
    width: 16,
    choices: { kind: "list", values: ["alcohol", "alcohol-free"] },
    about: "alcohol or alcohol-free; blank is taken as alcohol, to be on the safe side.",
    read: (value) => asWritten(value).toLowerCase(),
    cell: (wipes) => wipes || null,
  },
  shipTo: text({ heading: "Ship to", width: 30, about: "Where its parts are delivered." }),
  costCentre: text({
    heading: "Cost centre",
    width: 14,
    format: "@",
    about: "Who pays for its parts.",
  }),
  births: amount({
    heading: "Births a year",
    width: 14,
    choices: AMOUNT,
    about: "For a budget calculated from births.",
  }),
  expectedUses: amount({
    heading: "Expected uses (a device a month)",
    width: 20,
    choices: AMOUNT,
    about: "Your estimate for a site too new to have three months of counts.",
  }),
};

/** The Sites sheet: one row a birthing site. */
export const SITES: Layout = {
  name: "Sites",
  title: "Birthing sites",
  table: "SpareSites",
  about: "the sites, the names they had before and the wipes they use",
  room: 5000,
  columns: columnsIn(SITE_COLUMNS),
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
  return sites.map(({ code, numeric, ...site }) =>
    cellsOf(SITE_COLUMNS, { ...site, code: { code, numeric } }, 1900),
  );
}

/**
 * The sites of a Sites sheet. Code and wipes keep their spaces: formulas compare them as they stand,
 * and a code that matches nothing means the careful side.
 */
export function readSites(sheet: Sheet): Site[] {
  return readRows(sheet, SITES)
    .map((row) => recordIn(SITE_COLUMNS, row, 1900))
    .map(({ code, ...site }) => ({ ...site, ...code }))
    .filter(({ code }) => code !== "");
}

function asWritten(value: CellValue | undefined): string {
  return typeof value === "string" ? value : textOf(value);
}
