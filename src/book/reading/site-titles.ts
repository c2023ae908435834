import { notice, wholeSheet } from "../records/problems.ts";
import type { Problem } from "../records/records.ts";
import { isBlank, quoted, textOf } from "../workbook/cells.ts";
import type { Found } from "./register.ts";

/**
 * Texts alone in their row above blocks of devices, where no column holds the sites: most likely they are
 * the sites' names. They are told and not taken, since formulas read a device's site in its own row.
 */
export function siteTitles({ page, register, columns, heading }: Found): Problem[] {
  if (columns.has("site")) return [];
  const { sheet } = page;
  const isDevice = new Set(register.rows.filter((row) => filled(sheet.values[row]) > 1));
  const titles: number[] = [];
  for (let row = 0; row < sheet.values.length; row += 1) {
    const isHeading = row >= heading.first && row <= heading.last;
    if (!isHeading && filled(sheet.values[row]) === 1 && isDevice.has(below(row))) titles.push(row);
  }
  if (titles.length < 2) return [];
  const texts = titles.map((row) => lone(sheet.values[row]));
  return [
    notice(
      "site missing",
      { ...wholeSheet(sheet.name), row: titles[0] ?? null },
      `${texts.slice(0, 3).map(quoted).join(", ")} ${texts.length > 3 ? "and others " : ""}stand alone above rows of devices, as names of sites do, and no column holds the site.`,
      "Add a column Site with the name beside each device; the answers of a site need it.",
    ),
  ];

  /** The next row that is neither blank nor a heading said again. */
  function below(row: number): number {
    const skipped = new Set(
      register.leftOut
        .filter(({ reason }) => reason === "blank" || reason === "repeated heading")
        .map((one) => one.row),
    );
    let next = row + 1;
    while (skipped.has(next) || (next >= heading.first && next <= heading.last)) next += 1;
    return next;
  }
}

function filled(cells: Found["page"]["sheet"]["values"][number] | undefined): number {
  return (cells ?? []).filter((value) => !isBlank(value)).length;
}

function lone(cells: Found["page"]["sheet"]["values"][number] | undefined): string {
  return textOf((cells ?? []).find((value) => !isBlank(value)) ?? null);
}
