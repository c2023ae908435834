import { HOLIDAYS } from "./holidays.ts";
import { JOB_LOG } from "./job-log.ts";
import type { Layout } from "./layout.ts";
import { PARTS } from "./parts.ts";
import { SETUP } from "./setup.ts";
import { SHELF } from "./shelf.ts";
import { SITES } from "./sites.ts";

/** The sheets of ours that people fill in, in the order in which Read me lists them. */
export const OUR_SHEETS: readonly Layout[] = [SETUP, PARTS, SITES, HOLIDAYS, JOB_LOG, SHELF];

export const READ_ME = "Read me";
/** What a copy for others begins with. */
export const READ_FIRST = "Read first";

/** The names of all sheets of ours that are no results. */
export const OUR_NAMES: readonly string[] = [
  READ_ME,
  READ_FIRST,
  ...OUR_SHEETS.map(({ name }) => name),
];
