import { HOLIDAYS } from "./holidays.ts";
import { JOB_LOG } from "./job-log.ts";
import { isEntitled, isLaidOut, type Layout } from "./layout.ts";
import { PARTS } from "./parts.ts";
import { SETUP } from "./setup.ts";
import { SHELF } from "./shelf.ts";
import { SITES } from "./sites.ts";
import type { Sheet } from "../workbook/snapshot.ts";

/** The sheets of ours that people fill in, in the order in which Read me lists them. */
export const OUR_SHEETS: readonly Layout[] = [SETUP, PARTS, SITES, HOLIDAYS, JOB_LOG, SHELF];

export const READ_ME = { name: "Read me", title: "Read me: how this workbook is kept" };
/** What a copy for others begins with. */
export const READ_FIRST = { name: "Read first", title: "Read first: what this copy is" };

/** The names of all sheets of ours that are no results. */
export const OUR_NAMES: readonly string[] = [
  READ_ME.name,
  READ_FIRST.name,
  ...OUR_SHEETS.map(({ name }) => name),
];

/** Whether a sheet is one of ours that is no result; one that only has such a name is the programme's own. */
export function isOurSheet(sheet: Sheet): boolean {
  return (
    OUR_SHEETS.some((layout) => isLaidOut(sheet, layout)) ||
    [READ_ME, READ_FIRST].some((page) => isEntitled(sheet, page))
  );
}
