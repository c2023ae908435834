import { fault, notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { HOLIDAYS } from "../../sheets/holidays.ts";
import { JOB_LOG } from "../../sheets/job-log.ts";
import { findSheet, type Layout } from "../../sheets/layout.ts";
import { SETUP } from "../../sheets/setup.ts";
import { SHELF } from "../../sheets/shelf.ts";
import { SITES } from "../../sheets/sites.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";

/** What is lost with a sheet of ours; without Setup and Parts nothing is read at all. */
const LOST: readonly (readonly [layout: Layout, lost: string])[] = [
  [
    JOB_LOG,
    "damage that was logged and not followed by a replacement is forgotten, and nothing shows that dates are right",
  ],
  [SITES, "no site has alcohol-free wipes, and orders have no address"],
  [HOLIDAYS, "no day but those of the weekend is a day off"],
  [SHELF, "no spare counts as on the shelf or on order"],
];

/** Sheets of ours that are gone from a workbook of ours: they are made together, so somebody deleted them. */
export function goneSheets(snapshot: Snapshot): Problem[] {
  if (findSheet(snapshot, SETUP) === null) return [];
  return LOST.flatMap(([layout, lost]): Problem[] => {
    if (findSheet(snapshot, layout) !== null) return [];
    const { name } = layout;
    const cause = `The sheet ${name} is gone: ${lost}.`;
    const fix = `Bring it back from an earlier copy of this workbook, such as the dated one of the last saving.`;
    const tell = layout === JOB_LOG ? fault : notice;
    return [tell("sheet gone", wholeSheet(name), cause, fix)];
  });
}
