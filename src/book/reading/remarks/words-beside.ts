import { widest } from "../../workbook/cells.ts";
import type { Found } from "../register/register.ts";

/** What may be more than a name, in the cell of a device and of a site. */
const MORE = new Map([
  ["device", /[([,;]|\s[–—-]\s/u],
  ["site", /\s/u],
]);
const ANY = /\S/u;

/**
 * Whether anything is written in a register that somebody has to hear: a comment, a row of no device, or words or
 * boxes in a cell beside the names of devices and sites.
 */
export function hasWordsBeside({ page, register, columns }: Found): boolean {
  const { sheet } = page;
  if ((sheet.comments?.size ?? 0) > 0 || register.leftOut.length > 0) return true;
  const more = new Map([...MORE].map(([field, shape]) => [columns.get(field), shape]));
  const width = widest(register.rows.map((row) => sheet.values[row]));
  const all = Array.from({ length: width }, (_, column) => column);
  return register.rows.some((row) =>
    all.some((column) => {
      const value = sheet.values[row]?.[column] ?? null;
      const isWords = (shape: RegExp): boolean => typeof value === "string" && shape.test(value);
      return typeof value === "boolean" || isWords(more.get(column) ?? ANY);
    }),
  );
}
