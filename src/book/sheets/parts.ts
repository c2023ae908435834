import type { Part } from "../records/records.ts";
import type { CellValue, Sheet } from "../workbook/snapshot.ts";
import { columnReference, type Layout, readRows, textOf, YES_NO } from "./layout.ts";
import { readSupply, SUPPLY_COLUMNS, supplyCells } from "./supply.ts";

const MONTHS = { kind: "number", from: "1", to: "120", whole: true } as const;
const USES = { kind: "number", from: "0", to: "1000000", whole: false } as const;

/** The Parts sheet: one row a kind of part or dated task. */
export const PARTS: Layout = {
  name: "Parts",
  title: "Parts and dated tasks",
  table: "SpareParts",
  about:
    "what is replaced or done, how often, and how it is bought; the months and the usage curve are your own setting",
  room: 50,
  columns: [
    { heading: "Code", width: 14, about: "Capital letters only; do not change once used." },
    { heading: "Name", width: 26, about: "The name in headings and lists." },
    {
      heading: "Shortest (months)",
      width: 12,
      choices: MONTHS,
      about: "Whole months at heavy use, and whenever usage is in doubt.",
    },
    {
      heading: "Longest (months)",
      width: 12,
      choices: MONTHS,
      about: "Whole months at light use; never longer than the maker allows.",
    },
    {
      heading: "Use budget (uses)",
      width: 12,
      choices: USES,
      about: "How many uses one part serves; blank when the ramp is used instead.",
    },
    {
      heading: "Light use (a month)",
      width: 12,
      choices: USES,
      about: "Up to this many uses a month the longest interval holds.",
    },
    {
      heading: "Heavy use (a month)",
      width: 12,
      choices: USES,
      about: "From this many uses a month the shortest interval holds.",
    },
    {
      heading: "Inspections a week",
      width: 12,
      choices: { kind: "number", from: "0", to: "7", whole: true },
      about: "Distinct days per ISO week on which it must be inspected; 0 for none.",
    },
    {
      heading: "Vinyl",
      width: 8,
      choices: YES_NO,
      about: "yes: the shortest interval holds at sites not known to use alcohol-free wipes.",
    },
    {
      heading: "Dated task",
      width: 10,
      choices: YES_NO,
      about: "yes: a task such as a calibration, due by date alone.",
    },
    ...SUPPLY_COLUMNS,
  ],
};

/** Rows of a new Parts sheet. */
export function partRows(parts: readonly Part[]): CellValue[][] {
  return parts.map((part) => [
    part.code,
    part.name,
    part.shortest,
    part.longest,
    part.useBudget,
    part.lightUse,
    part.heavyUse,
    part.perWeek,
    part.vinyl ? "yes" : "no",
    part.task ? "yes" : "no",
    ...supplyCells(part.supply),
  ]);
}

/** The parts of a Parts sheet. A cell that is no number is read as missing, never guessed. */
export function readParts(sheet: Sheet): {
  readonly parts: readonly Part[];
  readonly faultyRows: readonly number[];
} {
  const parts: Part[] = [];
  const faultyRows: number[] = [];
  for (const { row, values } of readRows(sheet, PARTS)) {
    const number = (heading: string): number | null => {
      const value = values.get(heading);
      return typeof value === "number" ? value : null;
    };
    const code = textOf(values.get("Code"));
    if (!/^[A-Z]+$/.test(code) || parts.some((part) => part.code === code)) {
      faultyRows.push(row);
      continue;
    }
    parts.push({
      code,
      name: textOf(values.get("Name")) || code,
      shortest: number("Shortest (months)"),
      longest: number("Longest (months)"),
      useBudget: number("Use budget (uses)"),
      lightUse: number("Light use (a month)"),
      heavyUse: number("Heavy use (a month)"),
      perWeek: number("Inspections a week") ?? 0,
      vinyl: textOf(values.get("Vinyl")).toLowerCase() !== "no",
      task: textOf(values.get("Dated task")).toLowerCase() === "yes",
      supply: readSupply(values),
    });
  }
  return { parts, faultyRows };
}

/** A value of a part as a formula that finds its row by code. */
export function partReference(sheet: string, code: string, heading: string): string {
  const values = columnReference(PARTS, sheet, heading);
  const codes = columnReference(PARTS, sheet, "Code");
  return `INDEX(${values},MATCH("${code}",${codes},0))`;
}
