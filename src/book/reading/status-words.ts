import { LANGUAGES } from "../languages/index.ts";
import { formsOf, wordsIn } from "../languages/words-of.ts";
import { keyOf, quoted, textOf } from "../workbook/cells.ts";
import type { Named } from "./devices.ts";
import type { CellValue } from "../workbook/snapshot.ts";
import { listed, notice } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import type { Found } from "./register.ts";
import { RETIRED_WORDS, saysRetired } from "../records/retired-words.ts";

/** Words that plainly leave a device in the programme, folded: no formula compares them. */
const SERVING_WORDS: ReadonlySet<string> = new Set([
  ...["in service", "in use", "active", "current", "operational", "working", "functional"],
  ...["serviceable", "live", "ok", "okay", "good", "fair", "new", "yes", "y", "true", "1"],
  ...["on loan", "under repair", "in repair"],
  ...LANGUAGES.flatMap((language) =>
    [...language.serving, ...language.yes].flatMap((word) => formsOf(word, language)),
  ).map((word) => wordsIn(word).join(" ")),
]);

/** Whether a cell plainly says that a device is in the programme. */
export function saysServing(cell: CellValue): boolean {
  return SERVING_WORDS.has(wordsIn(textOf(cell)).join(" "));
}

/**
 * Status words of uncertain meaning, each reported once. Such a device stays in the programme: taking
 * it out on a guess would stop its replacements without a word.
 */
export function statusNotices(
  { page, columns, register }: Found,
  named: readonly Named[],
): Problem[] {
  const column = columns.get("status");
  if (column === undefined) return [];
  const dated = columns.get("retiredOn");
  const told = new Map<string, { readonly word: string; readonly devices: Named[] }>();
  for (const device of named) {
    const cell = page.sheet.values[device.row]?.[column] ?? null;
    const word = textOf(cell);
    if (word === "" || device.retired || saysRetired(cell) || saysServing(cell)) continue;
    const key = keyOf(word);
    const same = told.get(key);
    if (same === undefined) told.set(key, { word, devices: [device] });
    else same.devices.push(device);
  }
  const at = { sheet: page.sheet.name, column, heading: register.headings[column] ?? "" };
  const on = dated === undefined ? "Retired on" : (register.headings[dated] ?? "");
  const others = RETIRED_WORDS.slice(1).join(", ");
  return [...told.values()].map(({ word, devices }): Problem => {
    const ids = listed(devices.map(({ id }) => id));
    const stay = devices.length === 1 ? "counts" : "count";
    return notice(
      "unknown status",
      { ...at, row: devices[0]?.row ?? null },
      `${quoted(word)} does not clearly say that a device has left: ${ids} ${stay} as in service.`,
      `For a device that has left, write Retired (or ${others}) and the date under "${on}".`,
    );
  });
}
