import { type Day, isoText } from "../../core/day.ts";
import type { Part } from "../records/records.ts";
import { CAUTIONS } from "../records/cautions.ts";
import { freeName, type LayoutColumn, textOf } from "../sheets/layout.ts";
import { onPaper } from "../sheets/paper.ts";
import { PART_FIELDS, partRows, PARTS } from "../sheets/parts.ts";
import { highRow, tableWidth } from "../sheets/shape.ts";
import type { Edit, SheetCell } from "../workbook/plan.ts";
import type { CellValue, Snapshot } from "../workbook/snapshot.ts";

const SHEET = "Parts on a page";

/** Parts beside each other; more of them go on below. */
const ACROSS = 5;
const SETTING = { heading: "Setting", width: 26, wraps: true } as const;
const PART = { heading: "Part", width: 16, wraps: true } as const;
const COLUMNS = [SETTING, ...Array.from({ length: ACROSS }, () => PART)];
/** Row of the first names, below the title and what it is of. */
const FIRST = 4;

/**
 * The Parts sheet turned on its side for paper, a part a column, as a page of its own each time: a table that people
 * fill in has its headings in a row, too many of them for a sheet of paper.
 */
export function partsPage(parts: readonly Part[], reportDate: Day, snapshot: Snapshot): Edit[] {
  const sheet = freeName(snapshot, SHEET);
  const cells: SheetCell[] = [];
  const heights: { readonly row: number; readonly points: number }[] = [];
  let row = FIRST;
  for (let from = 0; from < parts.length; from += ACROSS) {
    for (const line of linesOf(parts.slice(from, from + ACROSS))) {
      cells.push(...lineCells(line, row));
      heights.push(...highRow(COLUMNS, [line.heading, ...line.values], row));
      row += 1;
    }
    row += 1;
  }
  const date = isoText(reportDate);
  const notes = [`As of ${date}.`, CAUTIONS.planningAid];
  return [
    {
      kind: "addSheet",
      sheet,
      cells: [
        { row: 0, column: 0, value: PARTS.title, look: "title" },
        ...notes.map((value, at): SheetCell => ({ row: 1 + at, column: 0, value, look: "plain" })),
        ...cells,
      ],
      widths: COLUMNS.map(({ width }) => width),
      heights,
      freezeRows: 0,
    },
    onPaper(sheet, tableWidth(COLUMNS), {
      titleRows: null,
      footer: `&L&A&CReport date ${date}&RPage &P of &N`,
    }),
  ];
}

/** One setting of some parts. */
interface Line {
  readonly heading: string;
  readonly values: readonly CellValue[];
  readonly format: string | undefined;
  /** Names stand above the settings. */
  readonly look: "heading" | "plain";
}

/** The names of parts, and each setting that one of them has. */
function linesOf(parts: readonly Part[]): Line[] {
  const rows = partRows(parts);
  const names: Line = {
    ...{ heading: SETTING.heading, format: undefined, look: "heading" },
    values: parts.map(({ name, code }) => name || code),
  };
  const settings = PARTS.columns.map((column, at): Line => ({
    heading: column.heading,
    values: rows.map((values, of) => told(values[at] ?? null, parts[of], at)),
    format: formatOf(column),
    look: "plain",
  }));
  return [
    names,
    ...settings.filter(
      ({ heading, values }) => heading !== "Name" && values.some((value) => value !== null),
    ),
  ];
}

/** A value that was put in the place of one in doubt says so. */
function told(value: CellValue, part: Part | undefined, at: number): CellValue {
  const field = PART_FIELDS[at];
  if (part === undefined || field === undefined || !part.doubts.includes(field)) return value;
  return value === null ? "in doubt" : `${textOf(value)} (in doubt)`;
}

function formatOf({ format }: LayoutColumn): string | undefined {
  return typeof format === "string" ? format : undefined;
}

function lineCells({ heading, values, format, look }: Line, row: number): SheetCell[] {
  const shared = { row, look, wraps: true } as const;
  return [
    { ...shared, column: 0, value: heading },
    ...values.map((value, at): SheetCell => ({
      ...shared,
      column: 1 + at,
      value,
      toRight: true,
      ...(format === undefined || typeof value !== "number" ? {} : { format }),
    })),
  ];
}
