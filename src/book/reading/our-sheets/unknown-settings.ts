import { notice } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import { eachSetting } from "../../records/settings.ts";
import { findSheet, headingColumn } from "../../sheets/layout.ts";
import { readRows } from "../../sheets/our-rows.ts";
import { SETUP, VERSION } from "../../sheets/setup.ts";
import { isRemembered } from "../../sheets/setup-read.ts";
import { quoted, textOf } from "../../workbook/cells.ts";
import type { Snapshot } from "../../workbook/snapshot.ts";

const KNOWN: ReadonlySet<string> = new Set(
  [VERSION.label, ...eachSetting().map(([, { label }]) => label)].map((one) => one.toLowerCase()),
);

/** Rows of Setup under a name that no setting has: nothing is read from them, though somebody may have meant one. */
export function unknownSettings(snapshot: Snapshot): Problem[] {
  const sheet = findSheet(snapshot, SETUP);
  if (sheet === null) return [];
  const column = headingColumn(sheet, "Setting");
  return readRows(sheet, SETUP).flatMap(({ row, values }) => {
    const label = textOf(values.get("Setting") ?? null);
    if (KNOWN.has(label.toLowerCase()) || isRemembered(label)) return [];
    const what = label === "" ? "A row without a name" : quoted(label);
    const place = { sheet: sheet.name, row, column, heading: "Setting" };
    return notice(
      "unusable cell",
      place,
      `${what} is no setting, so nothing is read from its row.`,
      "Write the name of the setting that is meant, or clear the row.",
    );
  });
}
