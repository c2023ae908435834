import type { Part, PartField } from "../records/records.ts";
import { MONTH_UNITS, USE_UNITS, WEEK_UNITS } from "../workbook/number-text.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import {
  cellsOf,
  columnsIn,
  type InputColumns,
  meant,
  number,
  numberIfAny,
  text,
  UNHEARD,
  yesNo,
} from "./column.ts";
import { type DoubtfulCell, most } from "./heard.ts";
import { columnReference, type Layout } from "./layout.ts";
import { SUPPLY_COLUMNS } from "./supply.ts";

const MONTHS = { kind: "number", from: "1", to: "120", whole: true } as const;
const USES = { kind: "number", from: "0", to: "1000000", whole: false } as const;
/** A part that lasts for no use at all is a slip of the pen. */
const USE_BUDGET = { ...USES, from: "1" } as const;

/** Cells that an interval follows from: in doubt the shortest one known applies, and no date is given. */
const LIMIT = {
  carefully:
    "its rows say Check row, and where an interval is needed the shortest one known applies",
} as const;
const LIMIT_NUMBER = {
  ...LIMIT,
  blank: null,
  careful: ({ hints }: DoubtfulCell<number | null>) =>
    hints.length === 0 ? null : Math.min(...hints),
} as const;

/** What a part is and how long it serves. */
export type Service = Omit<Part, "supply" | "doubts" | "position" | "positions">;

/** What a part is and how long it serves; how it is bought stands in the columns after these. */
export const SERVICE_COLUMNS: InputColumns<Service> = {
  code: {
    ...text({
      heading: "Code",
      inPlace: true,
      width: 14,
    }),
    // As it stands: formulas find their row by it.
    hear: (value = "") => (typeof value === "string" ? meant(value) : UNHEARD),
    carefully: "a code is made for the part",
  },
  name: {
    ...text({
      heading: "Name",
      inPlace: true,
      width: 26,
    }),
    carefully: "its usual name or its code stands for it",
  },
  shortest: numberIfAny({
    heading: "Shortest (months)",
    width: 12,
    choices: MONTHS,
    units: MONTH_UNITS,
    ...LIMIT_NUMBER,
  }),
  longest: numberIfAny({
    heading: "Longest (months)",
    width: 12,
    choices: MONTHS,
    units: MONTH_UNITS,
    ...LIMIT_NUMBER,
  }),
  useBudget: numberIfAny({
    heading: "Use budget (uses)",
    width: 12,
    choices: USE_BUDGET,
    units: USE_UNITS,
    ...LIMIT_NUMBER,
  }),
  lightUse: numberIfAny({
    heading: "Light use (a month)",
    width: 12,
    choices: USES,
    units: USE_UNITS,
    ...LIMIT_NUMBER,
  }),
  heavyUse: numberIfAny({
    heading: "Heavy use (a month)",
    width: 12,
    choices: USES,
    units: USE_UNITS,
    ...LIMIT_NUMBER,
  }),
  perWeek: number({
    heading: "Inspections a week",
    width: 12,
    choices: { kind: "number", from: "0", to: "7", whole: true },
    units: WEEK_UNITS,
    blank: 0,
    // Two a week are what new programmes start with.
    careful: most(2),
  }),
  vinyl: yesNo(true, {
    heading: "Vinyl",
    width: 8,
    careful: () => true,
    ...LIMIT,
  }),
  task: yesNo(false, {
    heading: "Dated task",
    width: 10,
    careful: () => false,
    ...LIMIT,
  }),
};

/** The Parts sheet: one row a kind of part or dated task. */
export const PARTS: Layout = {
  name: "Parts",
  title: "Parts and dated tasks",
  table: "SpareParts",
  room: 50,
  columns: [...columnsIn(SERVICE_COLUMNS), ...columnsIn(SUPPLY_COLUMNS)],
};

/** The field of a part that each column of the Parts sheet holds. */
export const PART_FIELDS = [
  ...Object.keys(SERVICE_COLUMNS),
  ...Object.keys(SUPPLY_COLUMNS),
] as readonly PartField[];

/** Rows of a new Parts sheet. */
export function partRows(parts: readonly Part[]): CellValue[][] {
  return parts.map((part) => [
    ...cellsOf<Service>(SERVICE_COLUMNS, part, 1900),
    ...cellsOf(SUPPLY_COLUMNS, part.supply, 1900),
  ]);
}

/** A value of a part as a formula that finds its row by code. */
export function partReference(sheet: string, code: string, heading: string): string {
  const values = columnReference(PARTS, sheet, heading);
  const codes = columnReference(PARTS, sheet, "Code");
  return `INDEX(${values},MATCH("${code}",${codes},0))`;
}
