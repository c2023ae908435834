import { READ_ME } from "../sheets/our-sheets.ts";
import { type Day, isoText } from "../../core/day.ts";
import { lastDoneTitle } from "../answers/titles.ts";
import { counted } from "../records/problems.ts";
import type { ColumnMatch, Reading, Register } from "../records/records.ts";
import { findSheet, freeName } from "../sheets/layout.ts";
import { nameEdits, type SheetNames } from "../sheets/names.ts";
import { changeEdits, makeReadMe, PURPOSES, readMeSheet } from "../sheets/read-me.ts";
import { SETUP } from "../sheets/setup.ts";
import { setupEdits, sheetEdits } from "../sheets/sheets-plan.ts";
import { BookError } from "../workbook/errors.ts";
import { isFiltered } from "../workbook/expect.ts";
import type { Edit, Plan } from "../workbook/plan.ts";
import { address, type Sheet, sheetNamed, type Snapshot } from "../workbook/snapshot.ts";
import { ourColumns, type RegisterColumns } from "./columns.ts";
import type { Mode, OurColumn } from "./our-column.ts";
import { addedIn, registerEdits } from "./register-edits.ts";

/** How the columns are wanted. */
export interface ColumnsRequest {
  readonly mode: Mode;
  readonly today: Day;
  /** Write over constants that stand where our formulas were. */
  readonly force: boolean;
}

/**
 * The plan that gives each register its computed columns, and the book our sheets where they are
 * missing. On a book that already has them, only what differs; nothing when nothing does.
 */
export function columnsPlan(snapshot: Snapshot, reading: Reading, request: ColumnsRequest): Plan {
  const own = ourColumns(snapshot, reading, request.mode);
  for (const { columns } of own) refuseTaken(snapshot, columns);
  const remembered = { ...reading, registers: own.map(withDateColumns) };
  const { names, edits: sheets } = sheetEdits(snapshot, remembered);
  const changed = own.map((one) => registerEdits(one, request));
  const edits: Edit[] = [
    ...sheets,
    ...setupEdits(snapshot, remembered),
    ...nameEditsFor(snapshot, names, reading, request.mode),
    ...changed.flatMap((one) => one.edits),
  ];
  const torn = changed.map(({ told }) => told).filter((text) => text !== "");
  if (edits.length === 0) return { summary: ["nothing to change", ...torn].join("; "), edits };
  const readMe = readMeSheet(snapshot);
  const said = [summaryOf(own, edits), readMe === null ? `sheet ${READ_ME.name}` : "", ...torn];
  const summary = said.filter((text) => text !== "").join("; ");
  const change = `${isoText(request.today)}: ${summary}`;
  edits.push(
    ...(readMe === null
      ? makeReadMe(freeName(snapshot, READ_ME.name), PURPOSES[request.mode], change)
      : changeEdits(readMe, change)),
  );
  return { summary, edits };
}

/** The register with the date columns about to be added: Setup remembers them at once, not on the next run. */
function withDateColumns({ reading, columns }: RegisterColumns): Register {
  const { register, ours } = reading;
  const added = addedIn(columns);
  const matches = ours.parts.flatMap((part): ColumnMatch[] => {
    const found = added.find(({ title }) => title === lastDoneTitle(part));
    if (found === undefined) return [];
    const { column, title: heading } = found;
    return [{ field: `last:${part.code}`, column, heading, confidence: 1, by: "heading" }];
  });
  return { ...register, matches: [...register.matches, ...matches] };
}

/** In a book that was never ours, a heading of ours is the user's own column; several are what Setup was deleted from. */
function refuseTaken(snapshot: Snapshot, columns: readonly OurColumn[]): void {
  const there = columns.filter((column) => column.there);
  const [taken] = there;
  if (taken === undefined || findSheet(snapshot, SETUP) !== null) return;
  if (there.length > 1) {
    throw new BookError(
      `The register has columns that Sparespan added, such as "${taken.title}", and the sheet Setup is gone: bring Setup back from an earlier copy of this workbook, or delete these columns.`,
    );
  }
  throw new BookError(
    `The heading "${taken.title}" is one that Sparespan adds itself; rename your column first.`,
  );
}

function nameEditsFor(
  snapshot: Snapshot,
  names: SheetNames,
  { ours }: Reading,
  mode: Mode,
): Edit[] {
  return mode === "values" ? [] : nameEdits(snapshot, names, ours.parts);
}

function summaryOf(own: readonly RegisterColumns[], edits: readonly Edit[]): string {
  const parts = own.flatMap(addedText);
  const registers = new Set(own.map(({ sheet }) => sheet.name));
  const filled = edits.flatMap((edit) =>
    edit.kind === "fillCells" && registers.has(edit.sheet) ? edit.blocks : [],
  );
  const cells = filled.reduce((sum, block) => sum + block.rows.length, 0);
  if (cells > 0) parts.push(`${counted(cells, "cell")} of ours updated`);
  const sheets = edits.flatMap((edit) => (edit.kind === "addSheet" ? [edit.sheet] : []));
  if (sheets.length > 0) parts.push(`new sheets ${sheets.join(", ")}`);
  return parts.length === 0 ? "settings updated" : parts.join("; ");
}

function addedText({ reading: { register }, columns }: RegisterColumns): string[] {
  const added = addedIn(columns);
  const first = added[0];
  const last = added.at(-1);
  if (first === undefined || last === undefined) return [];
  const to = address(register.rows.at(-1) ?? register.headerRow, last.column);
  return [
    `${counted(added.length, "column")} for ${counted(register.rows.length, "row")}, ` +
      `${register.sheet}!${address(register.headerRow, first.column)}:${to}`,
  ];
}

/** Why the registers cannot be written to as they stand, or null; a protected one can where that is forced. */
export function writeBar(
  snapshot: Snapshot,
  { registers }: Reading,
  { force }: Pick<ColumnsRequest, "force">,
): string | null {
  for (const register of registers) {
    const sheet = sheetNamed(snapshot, register.sheet);
    const bar = sheet === null ? null : barOf(sheet, force);
    if (bar !== null) return bar;
  }
  return null;
}

function barOf(sheet: Sheet, force: boolean): string | null {
  if (isFiltered(sheet)) {
    return `${sheet.name} is filtered; clear the filter first: nothing is written into a filtered block`;
  }
  return sheet.protected && !force
    ? `${sheet.name} is protected; unprotect it first, or give --force`
    : null;
}
