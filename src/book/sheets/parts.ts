import type { Part } from "../records/records.ts";
import type { CellValue, Sheet } from "../workbook/snapshot.ts";
import {
  cellsOf,
  columnsIn,
  type InputColumns,
  number,
  numberOr,
  recordIn,
  text,
  yesNo,
} from "./column.ts";
import { columnReference, type Layout, readRows } from "./layout.ts";
import { SUPPLY_COLUMNS } from "./supply.ts";

const MONTHS = { kind: "number", from: "1", to: "120", whole: true } as const;
const USES = { kind: "number", from: "0", to: "1000000", whole: false } as const;

/** What a part is and how long it serves; how it is bought stands in the columns after these. */
const SERVICE_COLUMNS: InputColumns<Omit<Part, "supply">> = {
  code: text({
    heading: "Code",
    width: 14,
    about: "Capital letters only; do not change once used.",
  }),
  name: text({ heading: "Name", width: 26, about: "The name in headings and lists." }),
  shortest: number({
    heading: "Shortest (months)",
    width: 12,
    choices: MONTHS,
    about: "Whole months at heavy use, and whenever usage is in doubt.",
  }),
  longest: number({
    heading: "Longest (months)",
    width: 12,
    choices: MONTHS,
    about: "Whole months at light use; never longer than the maker allows.",
  }),
  useBudget: number({
    heading: "Use budget (uses)",
    width: 12,
    choices: USES,
    about: "How many uses one part lasts; blank if light and heavy use are given instead.",
  }),
  lightUse: number({
    heading: "Light use (a month)",
    width: 12,
    choices: USES,
    about: "Up to this many uses a month, the longest interval applies.",
  }),
  heavyUse: number({
    heading: "Heavy use (a month)",
    width: 12,
    choices: USES,
    about: "From this many uses a month, the shortest interval applies.",
  }),
  perWeek: numberOr(0, {
    heading: "Inspections a week",
    width: 12,
    choices: { kind: "number", from: "0", to: "7", whole: true },
    about: "Distinct days per ISO week on which it must be inspected; 0 for none.",
  }),
  vinyl: yesNo(true, {
    heading: "Vinyl",
    width: 8,
    about: "yes: the shortest interval applies at sites not known to use alcohol-free wipes.",
  }),
  task: yesNo(false, {
    heading: "Dated task",
    width: 10,
    about: "yes: a task such as a calibration, due by date alone.",
  }),
};

/** The Parts sheet: one row a kind of part or dated task. */
export const PARTS: Layout = {
  name: "Parts",
  title: "Parts and dated tasks",
  table: "SpareParts",
  about:
    "what is replaced or done, how often, and how it is bought; the months and the usage curve are your own settings",
  room: 50,
  columns: [...columnsIn(SERVICE_COLUMNS), ...columnsIn(SUPPLY_COLUMNS)],
};

/** Rows of a new Parts sheet. */
export function partRows(parts: readonly Part[]): CellValue[][] {
  return parts.map(({ supply, ...service }) => [
    ...cellsOf(SERVICE_COLUMNS, service, 1900),
    ...cellsOf(SUPPLY_COLUMNS, supply, 1900),
  ]);
}

/** The parts of a Parts sheet. A cell that is no number is read as missing, never guessed. */
export function readParts(sheet: Sheet): {
  readonly parts: readonly Part[];
  readonly faultyRows: readonly number[];
} {
  const parts: Part[] = [];
  const faultyRows: number[] = [];
  for (const row of readRows(sheet, PARTS)) {
    const service = recordIn(SERVICE_COLUMNS, row, 1900);
    const { code } = service;
    if (!/^[A-Z]+$/.test(code) || parts.some((part) => part.code === code)) {
      faultyRows.push(row.row);
    } else {
      const supply = recordIn(SUPPLY_COLUMNS, row, 1900);
      parts.push({ ...service, name: service.name || code, supply });
    }
  }
  return { parts, faultyRows };
}

/** A value of a part as a formula that finds its row by code. */
export function partReference(sheet: string, code: string, heading: string): string {
  const values = columnReference(PARTS, sheet, heading);
  const codes = columnReference(PARTS, sheet, "Code");
  return `INDEX(${values},MATCH("${code}",${codes},0))`;
}
