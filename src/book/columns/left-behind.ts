import { isBlank, pageNamed, quoted } from "../workbook/cells.ts";
import { address, cellKey, type Snapshot } from "../workbook/snapshot.ts";
import { listed } from "../records/problems.ts";
import type { ProblemKind } from "../records/problem-kinds.ts";
import type { Problem } from "../records/records.ts";
import type { RegisterReading } from "../records/registers.ts";
import { type PartSource, TAKEN } from "./by-device.ts";

/** What is told of a sheet as a whole, and would be told no more once another sheet is the register. */
const TOLD: ReadonlySet<ProblemKind> = new Set<ProblemKind>([
  ...([
    "hidden rows",
    "hidden columns",
    "filtered",
    "colours not read",
    "register not read",
  ] as const),
]);

/** What of the sheets that rows of parts were taken from is not on the new one: what is told of them, and columns. */
export function leftBehind(
  snapshot: Snapshot,
  sources: readonly PartSource[],
  problems: readonly Problem[],
): string[] {
  const names = new Set(sources.map(({ reading }) => reading.register.sheet));
  const told = problems.flatMap(({ kind, sheet, cause }) =>
    TOLD.has(kind) && names.has(sheet) ? `${sheet}: ${cause}` : [],
  );
  return [
    ...new Set(told),
    ...new Set(sources.flatMap((source) => struckIn(snapshot, source))),
    ...new Set(sources.flatMap((source) => columnsLeft(snapshot, source, sources))),
  ];
}

/** Rows that name their device with a line through it: it stays in service, as everywhere. */
function struckIn(snapshot: Snapshot, { reading: { register }, rows }: PartSource): string[] {
  const struck = pageNamed(snapshot, register.sheet)?.sheet.struck;
  const column = register.matches.find(({ field }) => field === "device")?.column;
  if (struck === undefined || column === undefined) return [];
  return rows.flatMap(({ row, device }) =>
    struck.has(cellKey(row, column))
      ? `${register.sheet}!${address(row, column)}: ${device} is struck through; it counts as in service.`
      : [],
  );
}

/** Columns with anything in the rows of parts that the new sheet has nothing of; a log is read with all of its own. */
function columnsLeft(
  snapshot: Snapshot,
  { reading, rows, dates, ticks, naming }: PartSource,
  sources: readonly PartSource[],
): string[] {
  const page = pageNamed(snapshot, reading.register.sheet);
  if (page === null || (dates === null && ticks === null)) return [];
  const months = ticks?.months.map(({ column }) => column) ?? [];
  const { sheet, headings } = reading.register;
  const ofSheet = sources.filter((source) => source.reading.register.sheet === sheet);
  const dated = ofSheet.map((source) => source.dates);
  const taken = new Set([...naming, ...months, ...takenBy(reading), ...dated]);
  const left = headings.flatMap((heading, column) => {
    const isFilled = rows.some(({ row }) => !isBlank(page.sheet.values[row]?.[column] ?? null));
    return heading === "" || taken.has(column) || !isFilled ? [] : quoted(heading);
  });
  const why = "See whether anything there changes a date";
  return left.length === 0 ? [] : [`Not taken from ${sheet}: ${listed(left, 20)}. ${why}.`];
}

/** The columns whose cells are taken as they are. */
function takenBy({ register }: RegisterReading): number[] {
  const fields = new Set<string>([...TAKEN, "device", "site", "note"]);
  return register.matches.flatMap(({ field, column }) => (fields.has(field) ? column : []));
}
