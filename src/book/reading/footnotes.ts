import { remarkReader } from "../headings/remark-text.ts";
import { notice } from "../records/problems.ts";
import type { Part, Problem } from "../records/records.ts";
import { isBlank, textOf } from "../workbook/cells.ts";
import { firstWords } from "./comments.ts";
import type { Found } from "./register.ts";
import { NOTE } from "./rows.ts";

/** Lines of text among the devices that speak of a part: they are read as no device, and their words are not weighed. */
export function footnotes({ page, register }: Found, parts: readonly Part[]): Problem[] {
  const { says } = remarkReader(parts);
  return register.leftOut.flatMap(({ row, reason }): Problem[] => {
    const cells = page.sheet.values[row] ?? [];
    const text = textOf(cells.find((value) => !isBlank(value)) ?? null);
    if (reason !== NOTE || says(text) === "nothing") return [];
    const place = { sheet: page.sheet.name, row, column: null, heading: "" };
    const cause = `Row ${row + 1} is no device, and what it says is not weighed: ${firstWords(text)}.`;
    const fix =
      "Where it states an interval or a state, enter that on Parts or beside the devices.";
    return [notice("unweighed remark", place, cause, fix)];
  });
}
