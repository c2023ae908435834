import { ruleReader } from "../../headings/rule-text.ts";
import { listed, notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { quoted, textOf } from "../../workbook/cells.ts";
import { columnLetters } from "../../workbook/snapshot.ts";
import { firstWords } from "../told/first-words.ts";
import type { Named } from "../devices/devices.ts";
import { remarkColumns, unheaded } from "./remarks-heard.ts";
import type { Found } from "../register/register.ts";

/** Devices named in the sentence; the rest are counted. */
const NAMED = 6;

/** Remarks that say how often the parts of their device are replaced: they are not used, and may be stricter than ours. */
export function deviceRules(
  found: Found,
  named: readonly Named[],
  parts: readonly Part[],
): Problem[] {
  const rules = ruleReader(parts.filter(({ task }) => !task));
  const serving = named.filter(({ retired }) => !retired);
  const { sheet } = found.page;
  return [...remarkColumns(found, parts), ...unheaded(found)].flatMap((column): Problem[] => {
    const heading = found.register.headings[column] ?? "";
    // What names its part under no heading is told with the limits beside the list (limits-elsewhere.ts).
    const isHere = (text: string): boolean =>
      rules.ofDevice(text) && rules.isShorter(text) && !(heading === "" && rules.states(text));
    const said = serving.flatMap(({ id, row }) => {
      const value = sheet.values[row]?.[column] ?? null;
      const text = typeof value === "string" ? textOf(value) : "";
      return isHere(text) ? [`${id}: ${firstWords(text)}`] : [];
    });
    if (said.length === 0) return [];
    const name = heading === "" ? `Column ${columnLetters(column)}` : quoted(heading);
    const cause = `${name} says how often parts are replaced (${listed(said, NAMED)}): that is not used, and may be stricter than ours.`;
    const fix =
      'Give the register a column for each part, headed by its name and "interval (months)", and type it there.';
    const place = { sheet: sheet.name, row: null, column, heading };
    return [notice("own limit unclear", place, cause, fix)];
  });
}
