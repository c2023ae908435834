import { keyOf, quoted, textOf } from "../../workbook/cells.ts";
import type { Named } from "./devices.ts";
import { wordsIn } from "../../languages/words-of.ts";
import { counted, listed, notice, wholeSheet } from "../../records/problems.ts";
import type { Problem } from "../../records/records.ts";
import type { Found } from "../register/register.ts";
import type { CellValue } from "../../workbook/snapshot.ts";
import { saysServing } from "../../records/serving-words.ts";
import { remembering } from "../../records/remembering.ts";
import { ALL_RETIRED_WORDS, RETIRED_WORDS, saysRetired } from "../../records/retired-words.ts";

/**
 * Status words of uncertain meaning, each reported once. Such a device stays in the programme: taking
 * it out on a guess would stop its replacements without a word. A status that is heard as a
 * remark is told there.
 */
export function statusNotices(
  { page, columns, register }: Found,
  named: readonly Named[],
  remarks: readonly Problem[],
): Problem[] {
  const column = columns.get("status");
  if (column === undefined) return [];
  const dated = columns.get("retiredOn");
  const heard = new Set(remarks.map((one) => (one.column === column ? one.row : null)));
  const isKnown = remembering((cell: CellValue) => saysRetired(cell) || saysServing(cell));
  const told = new Map<string, { readonly word: string; readonly devices: Named[] }>();
  for (const device of named) {
    const cell = page.sheet.values[device.row]?.[column] ?? null;
    const word = textOf(cell);
    if (word === "" || device.retired || heard.has(device.row) || isKnown(cell)) continue;
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
      `For a device that has left, write Retired (or ${others}) and the date under "${on}"; what a state says of parts is not read.`,
    );
  });
}

/** Words in a sheet's name that may say that what it lists has left. */
const GONE_WORDS: ReadonlySet<string> = new Set([
  ...["old", "archive", "archived", "former", "withdrawn", "disposals"],
  ...ALL_RETIRED_WORDS,
]);

/**
 * A sheet among several whose name may say that its devices have left. Its name alone takes none out: the
 * formulas beside a row read that row.
 */
export function sheetStatus({ page }: Found, named: readonly Named[]): Problem[] {
  const { name } = page.sheet;
  const serving = named.filter(({ retired }) => !retired);
  const speaks = GONE_WORDS.has(keyOf(name)) || wordsIn(name).some((word) => GONE_WORDS.has(word));
  if (!speaks || serving.length === 0) return [];
  return [
    notice(
      "unknown status",
      wholeSheet(name),
      `The name ${quoted(name)} does not take devices out: ${counted(serving.length, "device")} there ${serving.length === 1 ? "counts" : "count"} as in service, ${listed(serving.map(({ id }) => id))}.`,
      'For a device that has left, write Retired in a column "Status", or its date in a column "Retired on"; of a column with another heading say so: --match "retiredOn=its heading".',
    ),
  ];
}
