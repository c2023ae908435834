import { deviceKey } from "../../records/device-key.ts";
import { isLastDone } from "../../records/positions.ts";
import { listed, notice, wholeSheet } from "../../records/problems.ts";
import { choosing } from "../../records/choosing.ts";
import type { Problem } from "../../records/records.ts";
import { wordsOf, knownWords } from "../../headings/words.ts";
import { isBlank, type Page, textOf, widest } from "../../workbook/cells.ts";
import { type CellValue, columnLetters } from "../../workbook/snapshot.ts";
import {
  type Codes,
  codesIn,
  FEW_COLUMNS,
  isOfDevices,
  shapeOf,
  shapesOf,
} from "./device-codes.ts";
import type { Found } from "../register/register.ts";

/** Devices named in the sentence; the rest are counted. */
const NAMED = 6;
const HEADING_ROWS = 15;
const KNOWN = new Set(knownWords());
/** What only other lists say. */
const OF_OTHERS = new Set([
  ...["order", "ordered", "price", "cost", "quantity", "qty", "supplier", "vendor", "lot", "batch"],
  ...["stock", "spare", "invoice", "delivery", "expiry", "warranty", "budget"],
]);

/**
 * Sheets that are not read and list what may be devices: short codes beside days, like those of the register or under
 * words of devices and their parts, in no other list of the book. Nobody would miss them without a word.
 */
export function unreadDevices(
  pages: readonly Page[],
  founds: readonly Found[],
  isDevice: (key: string) => boolean,
): Problem[] {
  if (pages.length === 0) return [];
  const shapes = new Set(founds.flatMap(shapesOf));
  return pages.flatMap((page) => {
    if (saysOther(page)) return [];
    const beside: Beside = { shapes, founds, isDevice };
    const found = [page, turned(page)]
      .flatMap((one) => codesIn(one).filter((codes) => isLikeDevices(one, codes, beside)))
      .at(0);
    const strange = found?.ids.filter((id) => !isDevice(deviceKey(id))) ?? [];
    if (strange.length === 0) return [];
    const { name } = page.sheet;
    return [
      notice(
        "register not read",
        wholeSheet(name),
        `${name} has what may be devices that are not in the register: ${listed(strange, NAMED)}; it is not read.`,
        `If they are devices, give the sheet the headings of the register, and if it is not found then, choose it besides: ${choosing([...founds.map((one) => one.page.sheet.name), name])}.`,
      ),
    ];
  });
}

/**
 * A second block beside a register, under no headings, with what may be devices of its own: codes like those of the
 * register, or laid out like it, each with a day.
 */
export function unheadedDevices(
  founds: readonly Found[],
  isDevice: (key: string) => boolean,
): Problem[] {
  const shapes = new Set(founds.flatMap(shapesOf));
  return founds.flatMap(({ page, heading }): Problem[] => {
    const { sheet } = page;
    const isBare = (value: CellValue, at: number): boolean => !isBlank(value) && !heading.texts[at];
    const isIn = (cells: readonly CellValue[], row: number): boolean =>
      row > heading.last && cells.some(isBare);
    if (!sheet.values.some(isIn)) return [];
    const values = sheet.values.map((cells, row) =>
      isIn(cells, row) ? cells.map((value, at) => (isBare(value, at) ? value : null)) : [],
    );
    const codes = codesIn({ ...page, sheet: { ...sheet, values } });
    const found = codes.find(({ ids }) => ids.every((id) => shapes.has(shapeOf(id))));
    const strange = found?.ids.filter((id) => !isDevice(deviceKey(id))) ?? [];
    if (found === undefined || strange.length === 0) return [];
    const cause = `Beside the register on ${sheet.name}, from column ${columnLetters(found.column)} on, stands what may be devices without headings: ${listed(strange, NAMED)}; it is not read.`;
    const fix = "If they are devices, move them below the others, or to a sheet of its own.";
    const place = { ...wholeSheet(sheet.name), column: found.column };
    return [notice("register not read", place, cause, fix)];
  });
}

/** The corner of a sheet with rows for columns: devices may stand side by side, or one on a card of its own. */
function turned(page: Page): Page {
  const { values, formats } = page.sheet;
  const rows = values.slice(0, FEW_COLUMNS);
  const width = Math.min(FEW_COLUMNS, widest(rows));
  const turn = <Cell>(cells: readonly (readonly Cell[])[], none: Cell): Cell[][] =>
    Array.from({ length: width }, (_, column) =>
      rows.map((_row, at) => cells[at]?.[column] ?? none),
    );
  const sheet = { ...page.sheet, values: turn(values, null), formats: turn(formats, 0) };
  return { ...page, sheet };
}

interface Beside {
  readonly shapes: ReadonlySet<string>;
  readonly founds: readonly Found[];
  readonly isDevice: (key: string) => boolean;
}

function isLikeDevices(
  page: Page,
  { column, ids, dated }: Codes,
  { shapes, founds, isDevice }: Beside,
): boolean {
  const isNumber = ids.every((id) => /^\d+$/.test(id));
  if (ids.some((id) => isDevice(deviceKey(id)))) return true;
  // Bare numbers are numbers of anything.
  if (isNumber)
    return saysDevices(page, [column, ...dated]) && ids.every((id) => shapes.has(shapeOf(id)));
  return (
    ids.some((id) => shapes.has(shapeOf(id))) ||
    saysDevices(page, [column, ...dated]) ||
    founds.some((found) => isLaidOutAs(found, { column, dated }))
  );
}

/** Words of devices and their parts above the codes or the days. */
function saysDevices(page: Page, columns: readonly number[]): boolean {
  return headingCells(page, columns).some(isOfDevices);
}

/** Words of a list of something else, anywhere among the headings. */
function saysOther(page: Page): boolean {
  return headingCells(page, null).some((text) =>
    wordsOf(text, KNOWN).some(({ text: word }) => OF_OTHERS.has(word)),
  );
}

function headingCells({ sheet }: Page, columns: readonly number[] | null): string[] {
  return sheet.values.slice(0, HEADING_ROWS).flatMap((cells) => {
    const texts = cells.flatMap((value, at) =>
      !isBlank(value) && typeof value === "string" && (columns?.includes(at) ?? true)
        ? textOf(value)
        : [],
    );
    return texts;
  });
}

/** Without headings: codes where the register has its devices, and days where it has those of its parts. */
function isLaidOutAs(
  { columns }: Found,
  { column, dated }: Pick<Codes, "column" | "dated">,
): boolean {
  const own = [...columns].flatMap(([field, at]) => (isLastDone(field) ? at : []));
  return (
    columns.get("device") === column && own.length > 0 && own.every((at) => dated.includes(at))
  );
}
