import { HOLIDAYS } from "./holidays.ts";
import { JOB_LOG } from "./job-log.ts";
import type { Layout } from "./layout.ts";
import { PARTS } from "./parts.ts";
import { SETUP } from "./setup.ts";
import { SHELF } from "./shelf.ts";
import { SITES } from "./sites.ts";

/** The sheets of ours that people fill in, in the order in which Read me lists them. */
export const OUR_SHEETS: readonly Layout[] = [SETUP, PARTS, SITES, HOLIDAYS, JOB_LOG, SHELF];
