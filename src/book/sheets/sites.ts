import { fault } from "../records/problems.ts";
import type { Problem, Site } from "../records/records.ts";
import { siteKey } from "../records/site-names.ts";
import type { CellValue, Sheet } from "../workbook/snapshot.ts";
import { USE_UNITS } from "../workbook/number-text.ts";
import {
  cellsOf,
  columnsIn,
  type InputColumn,
  type InputColumns,
  meant,
  numberIfAny,
  text,
  UNHEARD,
} from "./column.ts";
import { shownCell } from "./heard.ts";
import { inputRows, toldOf } from "./input-rows.ts";
import { headingColumn, type Layout, textOf } from "./layout.ts";

/** Uses, births: any number from 0. */
const AMOUNT = { kind: "number", from: "0", to: "1000000", whole: false } as const;

const WIPES: ReadonlySet<string> = new Set(["", "alcohol", "alcohol-free"]);

/** A code keeps its spaces and its type: formulas compare it as it stands. */
type Code = Pick<Site, "code" | "numeric">;

const SITE_COLUMNS: InputColumns<Omit<Site, keyof Code> & { readonly code: Code }> = {
  code: {
    heading: "Code",
    width: 14,
    must: "a code",
    hear: (value = null) =>
      typeof value === "string" || typeof value === "number" || value === null
        ? meant({ code: asWritten(value), numeric: typeof value === "number" })
        : UNHEARD,
    careful: ({ cell }) => ({ code: cell === null ? "" : shownCell(cell), numeric: false }),
    carefully: "it is the code of no site, so alcohol-based wipes are assumed at the one it means",
    cell: ({ code, numeric }) => (numeric ? Number(code) : code),
  },
  name: text({ heading: "Name", width: 30 }),
  earlierNames: {
    heading: "Earlier names",
    width: 34,
    ...listOf(text({ heading: "Earlier names", width: 34 })),
    cell: (names) => names.join("; ") || null,
  },
  wipes: {
    heading: "Wipes",
    width: 16,
    choices: { kind: "list", values: ["alcohol", "alcohol-free"] },
    must: "alcohol or alcohol-free",
    hear: (value = null) => {
      const said = asWritten(value).toLowerCase();
      return WIPES.has(said) && (value === null || typeof value === "string")
        ? meant(said)
        : UNHEARD;
    },
    careful: () => "",
    carefully: "alcohol-based wipes are assumed, so the shortest interval applies to vinyl",
    cell: (wipes) => wipes || null,
  },
  shipTo: text({ heading: "Ship to", width: 30 }),
  costCentre: text({
    heading: "Cost centre",
    width: 14,
    format: "@",
  }),
  births: numberIfAny({
    heading: "Births a year",
    width: 14,
    choices: AMOUNT,
    units: { births: 1, "births a year": 1, "a year": 1 },
    blank: null,
    careful: () => null,
    carefully: "no births are taken, so a budget from births is not complete",
  }),
  expectedUses: numberIfAny({
    heading: "Expected uses (a device a month)",
    width: 20,
    choices: AMOUNT,
    units: USE_UNITS,
    blank: null,
    careful: () => null,
    carefully: "no estimate is taken, so the shortest interval applies",
  }),
};

/** The Sites sheet: one row a birthing site. */
export const SITES: Layout = {
  name: "Sites",
  title: "Birthing sites",
  table: "SpareSites",
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
export function readSites(sheet: Sheet): {
  readonly sites: readonly Site[];
  readonly problems: readonly Problem[];
} {
  const rows = inputRows(sheet, SITES, SITE_COLUMNS, 1900);
  const problems = toldOf(rows);
  const wipes = new Map<string, string>();
  const seen = new Set<string>();
  const column = headingColumn(sheet, SITE_COLUMNS.code.heading);
  for (const { row, record } of rows) {
    const { code } = record.code;
    // Formulas compare codes as they stand, whatever their case.
    const written = code.toLowerCase();
    const before = wipes.get(written);
    wipes.set(written, before === undefined || before === record.wipes ? record.wipes : "");
    const key = siteKey(code);
    const isTwin = seen.has(key);
    seen.add(key);
    if (key === "" || !isTwin) continue;
    const place = { sheet: sheet.name, row, column, heading: SITE_COLUMNS.code.heading };
    const cause = `${code} stands more than once; its first row counts, and alcohol-based wipes unless all its rows say otherwise.`;
    problems.push(fault("repeated row", place, cause, "Keep one of the rows."));
  }
  const sites = rows
    .map(({ record }): Site => {
      const { code, numeric } = record.code;
      return { numeric, ...record, code, wipes: wipes.get(code.toLowerCase()) ?? "" };
    })
    .filter(({ code }) => code !== "");
  return { sites, problems };
}

/** Names in a cell, separated by semicolons. */
function listOf({
  must,
  hear,
  careful,
}: InputColumn<string>): Pick<InputColumn<readonly string[]>, "must" | "hear" | "careful"> {
  const names = (said: string): readonly string[] =>
    said
      .split(";")
      .map((name) => name.trim())
      .filter((name) => name !== "");
  return {
    must,
    hear: (value, system) => {
      const heard = hear(value, system);
      return heard.as === "doubtful" ? heard : meant(names(heard.value));
    },
    careful: (doubt) => names(careful({ ...doubt, others: [] })),
  };
}

function asWritten(value: CellValue | undefined): string {
  return typeof value === "string" ? value : textOf(value);
}
