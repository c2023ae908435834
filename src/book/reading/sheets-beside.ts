import type { WorkSense } from "../languages/language.ts";
import { namesPart, partWords } from "../headings/part-words.ts";
import { listed, notice, wholeSheet } from "../records/problems.ts";
import type { Device, Part, Problem } from "../records/records.ts";
import { type Page, textOf } from "../workbook/cells.ts";
import { takenOver } from "./taken-over.ts";
import type { Named } from "./devices.ts";
import { devicesIn } from "./devices-in-text.ts";

/** As much of a sheet as is looked at, and of a cell. */
const ROWS = 2000;
const COLUMNS = 40;
const LONGEST = 200;
/** Devices named in the sentence; the rest are counted. */
const NAMED = 6;

/** What a sheet says of parts that nobody may miss. */
const OF_PARTS: ReadonlySet<WorkSense> = new Set<WorkSense>(["damaged", "withdrawn"]);

/**
 * Sheets that are not read, but name devices of the register and speak of their parts or of damage, such as a list of
 * faults or of things to do: nothing of it is in any figure, so it is said.
 */
export function sheetsBeside(
  pages: readonly Page[],
  devices: ReadonlyMap<string, Named>,
  { parts, read }: { readonly parts: readonly Part[]; readonly read: readonly Device[] },
): Problem[] {
  if (devices.size === 0) return [];
  const { tokensOf } = partWords(parts);
  const isTaken = takenOver(read, parts);
  const condemns = (text: string): boolean =>
    tokensOf(text).some(({ senses }) => senses.some((one) => OF_PARTS.has(one)));
  const speaks = (text: string): boolean => namesPart(tokensOf(text)) || condemns(text);
  return pages.flatMap((page) => {
    const texts = textsOn(page);
    const found = [...new Set(texts.flatMap((text) => devicesIn(text, devices)))];
    if (found.length === 0 || !texts.some(speaks)) return [];
    if (!texts.some(condemns) && isTaken(page)) return [];
    const { name } = page.sheet;
    return [
      notice(
        "sheet not read",
        wholeSheet(name),
        `${name} speaks of parts and names ${listed(
          found.map(({ id }) => id),
          NAMED,
        )}; it is not read, so nothing of it is in any list.`,
        "See whether it ends the life of a part or changes a date; if so, put that into the Job log or the register.",
      ),
    ];
  });
}

/** What is written on a sheet, each text once. */
function textsOn({ sheet }: Page): string[] {
  const texts = new Set<string>();
  for (const cells of sheet.values.slice(0, ROWS)) {
    for (const value of cells.slice(0, COLUMNS)) {
      if (typeof value === "string" && value.length <= LONGEST) texts.add(textOf(value));
    }
  }
  return [...texts];
}
