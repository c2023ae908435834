import { quoted } from "../../workbook/cells.ts";
import { percentText } from "../../records/percent.ts";
import type { ColumnMatch } from "../../records/records.ts";
import { listed } from "../../records/problems.ts";

/** Words that lists of employees have in their headings or their sheet's name, and registers do not. */
const OF_EMPLOYEES =
  /\b(?:employees?|staff|personnel|surname|forename|(?:first|last|full|given) name|hired?|salary|wages?|job title|payroll|gender)\b/i;
/** What only equipment has: one such column, surely found, and the rows are things. */
const OF_EQUIPMENT = /^(?:model|serial|uses|last:.+)$/;
/** From here on a heading surely means its field. */
const SURE = 0.85;

/** A list of rows that may be the register. */
interface Rows {
  readonly sheet: string;
  readonly headings: readonly string[];
  readonly matches: readonly ColumnMatch[];
}

/**
 * Why rows taken for devices may be employees, and how to say what they are; null without such a doubt. A
 * person's choice is never doubted.
 */
export function peopleDoubt({ sheet, headings, matches }: Rows): string | null {
  const device = matches.find(({ field }) => field === "device");
  if (device?.by !== "heading" || device.confidence >= SURE) return null;
  const isThing = matches.some(
    ({ field, confidence }) => OF_EQUIPMENT.test(field) && confidence >= SURE,
  );
  const speaking = headings.filter((text) => OF_EMPLOYEES.test(text));
  if (isThing || (speaking.length === 0 && !OF_EMPLOYEES.test(sheet))) return null;
  const people = speaking.length > 0 ? listed(speaking.map(quoted)) : `the name ${quoted(sheet)}`;
  return (
    `the sheet ${sheet} may list employees: ${people} ${speaking.length > 1 ? "say" : "says"} so, ${quoted(device.heading)} is a device by ${percentText(device.confidence, 0)} only, ` +
    `and no column has models, serial numbers or last replacements; if it is the register, give --match "register=${sheet}" or state it in Setup, else write Device over the column that names the devices`
  );
}
