import { deviceKey } from "../../records/device-key.ts";
import { identifierAt, isBlank, keyOf, type Page } from "../../workbook/cells.ts";

/** As much of a sheet as is looked at for tables beside each other. */
const ROWS = 2000;
const COLUMNS = 60;

/**
 * The tables of a log that stand beside each other on its sheet, with a blank column between: each names devices of the
 * register below a heading that the others have too. Each is a page of its own, in which the others are blank.
 *
 * @param page A sheet that may be a log.
 * @param isDevice Whether a key is a device of the register.
 * @returns The page itself where there is one table.
 */
export function tablesBeside(page: Page, isDevice: (key: string) => boolean): readonly Page[] {
  const { sheet } = page;
  const rows = sheet.values.slice(0, ROWS);
  const width = Math.min(COLUMNS, Math.max(0, ...rows.map(({ length }) => length)));
  const blocks: [first: number, end: number][] = [];
  for (let column = 0; column < width; column += 1) {
    const isGap = rows.every((cells) => isBlank(cells[column] ?? null));
    const last = blocks.at(-1);
    if (isGap) continue;
    if (last !== undefined && last[1] === column) last[1] = column + 1;
    else blocks.push([column, column + 1]);
  }
  const headed = blocks.map((block) => devicesBelow(page, block, isDevice));
  const heading = headed.find((one) => one !== null) ?? null;
  const firsts = blocks.flatMap(([first], at) => (headed[at] === heading ? first : []));
  if (heading === null || firsts.length < 2) return [page];
  // What stands behind a table without devices is of the one before it.
  return firsts.map((first, at) => {
    const from = at === 0 ? 0 : first;
    const end = firsts[at + 1] ?? Infinity;
    const values = sheet.values.map((cells) =>
      cells.map((value, column) => (column >= from && column < end ? value : null)),
    );
    return { ...page, sheet: { ...sheet, values } };
  });
}

/** The heading over the first device of a block; null where it names none. */
function devicesBelow(
  page: Page,
  [first, end]: readonly [number, number],
  isDevice: (key: string) => boolean,
): string | null {
  const { values } = page.sheet;
  for (let column = first; column < end; column += 1) {
    const row = values
      .slice(0, ROWS)
      .findIndex((_, at) => isDevice(deviceKey(identifierAt(page, at, column))));
    const above = values[row - 1]?.[column];
    if (row > 0 && typeof above === "string" && above.trim() !== "") return keyOf(above);
  }
  return null;
}
