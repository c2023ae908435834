import { remarkReader } from "../../headings/remark-text.ts";
import { notice } from "../../records/problems.ts";
import type { Part, Problem } from "../../records/records.ts";
import { firstWords } from "../told/first-words.ts";
import type { Named } from "../devices/devices.ts";
import type { Found } from "../register/register.ts";
import { asides, spokenOf } from "./spoken-of.ts";

/**
 * Rows below a list or among its devices that speak of a part or name a device: they are read as no device, and their words are not
 * weighed. Those that speak against a device which they name are told with it.
 */
export function footnotes(
  found: Found,
  named: readonly Named[],
  { parts, told }: { readonly parts: readonly Part[]; readonly told: readonly Problem[] },
): Problem[] {
  const { says } = remarkReader(parts);
  const namedIn = spokenOf(named);
  const isTold = new Set(told.map(({ row }) => row));
  return asides(found).flatMap(({ row, texts, said }): Problem[] => {
    const isOf = says(said) !== "nothing" || namedIn(texts).length > 0;
    if (isTold.has(row) || !isOf) return [];
    const place = { sheet: found.page.sheet.name, row, column: null, heading: "" };
    const cause = `Row ${row + 1} is no device, and what it says is not weighed: ${firstWords(said)}.`;
    const fix =
      "Where it states an interval or a state, enter that on Parts or beside the devices.";
    return [notice("unweighed remark", place, cause, fix)];
  });
}
